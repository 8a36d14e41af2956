// SPDX-License-Identifier: MIT
// The only unit that sees the parser's header, which takes long to compile.
#include "app/cli/options.h"

#include <algorithm>
#include <charconv>
#include <locale>
#include <map>
#include <memory>
#include <sstream>
#include <system_error>
#include <tuple>
#include <utility>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "body/shape.h"
#include "report/tool.h"
#include "units/nearest.h"

namespace evenspit {
namespace {

constexpr int option_column = 22;

constexpr const char* status_footer =
    "Exit status:\n"
    "  0  computed, the verdict is ready or care\n"
    "  1  computed, the verdict is stop\n"
    "  2  bad input or bad usage; the message says what to mend\n"
    "  3  a fault of the program's own";

constexpr const char* environment_footer =
    "\n\nEnvironment:\n"
    "  EVENSPIT_MODELS     Folder of models, instead of those that came along\n"
    "  NO_COLOR            If set, no colour";

// The usage line as people write it: what must be given first, options last.
class HelpFormatter : public CLI::Formatter {
  public:
    HelpFormatter() {
        column_width(option_column);
        label("Positionals", "Arguments");
    }

    std::string make_usage(const CLI::App* app, std::string name) const override {
        std::string usage = "\nUsage: " + name;
        if (!app->get_subcommands({}).empty()) usage += " VERB";
        for (const CLI::Option* option : app->get_options()) {
            if (option->get_positional()) usage += ' ' + option->get_name(true);
        }
        return usage + " [OPTIONS]\n";
    }
};

// The parser writes what it reads into members, so that all of it lives in one place that does not move.
struct Parser {
    Request request;
    std::string units = "metric";
    std::optional<std::string> output;
    std::optional<std::string> scan_unit, mass, frame, axis, up;
    std::optional<int> pick;
    bool json = false;
    bool csv = false;
    std::optional<std::string> snapshot;
    PictureRequest picture;
    std::string size = "1280x720", angle = "0 deg";
    CLI::App app{
        "Tells, before the fire is lit, whether a load on a motor-driven spit is\n"
        "balanced, gripped, stiff and clear of the cooker.",
        std::string(tool_name())};
    std::map<const CLI::App*, Verb> verbs;
    std::map<std::string, std::optional<std::string>> shape_texts;  // by the keys of an [[item]]

    Parser();
    Parser(const Parser&) = delete;
    Parser& operator=(const Parser&) = delete;

  private:
    CLI::App* add_verb(Verb verb, const std::string& name, const std::string& about);
    void add_load(CLI::App* sub);
    void add_units(CLI::App* sub);
    void add_check();
    void add_plan();
    void add_compare();
    void add_fit();
    void add_shape();
    void add_scan();
    void add_models();
    void add_view();
};

std::string check_units(const std::string& name) {
    return name == "metric" || name == "us" ? "" : fmt::format("found '{}'; expected metric or us", name);
}

Parser::Parser() {
    app.formatter(std::make_shared<HelpFormatter>());
    app.set_help_flag("-h,--help", "Print help and exit; behind a verb, its own help");
    app.set_version_flag("--version", fmt::format("{} {}", tool_name(), tool_version()),
                         "Print the version and exit");
    add_check();
    add_plan();
    add_compare();
    add_fit();
    add_shape();
    add_scan();
    add_models();
    add_view();
    app.footer(std::string(status_footer) + environment_footer);
}

CLI::App* Parser::add_verb(Verb verb, const std::string& name, const std::string& about) {
    CLI::App* sub = app.add_subcommand(name, about);
    sub->group("Verbs");
    sub->allow_extras();
    sub->add_flag("--json", json, "The result as one JSON object, in SI units");
    sub->add_flag("--quiet", request.quiet, "No progress on standard error");
    verbs[sub] = verb;
    return sub;
}

void Parser::add_load(CLI::App* sub) {
    sub->add_option("LOAD", request.load, "The load file (TOML)")->type_name("");
}

void Parser::add_units(CLI::App* sub) {
    sub->add_option("--units", units, "metric or us, for the text (default metric)")
        ->type_name("SYSTEM")
        ->check(CLI::Validator(check_units, ""));
}

void Parser::add_check() {
    CLI::App* check =
        add_verb(Verb::check, "check", "Balance, turning, rod, grip, clearance, and the verdict");
    add_load(check);
    check->add_flag("--csv", csv, "The curves as CSV: torque, sag, moment, radius");
    add_units(check);
    check->add_option("-o,--output", output, "Write the result to FILE, whole or not at all")
        ->type_name("FILE");
    check->footer(status_footer);
}

void Parser::add_plan() {
    CLI::App* plan = add_verb(Verb::plan, "plan", "Where rod, forks and counterweights should go");
    add_load(plan);
    plan->add_option("-o,--output", output, "Write the load file with the answer in it to FILE")
        ->type_name("FILE");
    plan->add_option("--pick", pick, "The answer to write (default: the recommended one)")->type_name("N");
    add_units(plan);
    plan->footer(status_footer);
}

void Parser::add_compare() {
    CLI::App* compare = add_verb(Verb::compare, "compare", "Loads side by side, or one with a key swept");
    compare->add_option("LOADS", request.loads, "The load files (TOML)")->type_name("");
    compare->add_option("--sweep", request.sweep, "A key and its values: fork.1.at=150mm:250mm:10mm")
        ->type_name("KEY=…");
    compare->add_flag("--csv", csv, "The figures as CSV");
    add_units(compare);
    compare->add_option("-o,--output", output, "Write the result to FILE; .csv and .svg say what")
        ->type_name("FILE");
    compare->footer(status_footer);
}

void Parser::add_fit() {
    CLI::App* fit = add_verb(Verb::fit, "fit", "How large a body rod, motor and cooker can take");
    add_load(fit);
    add_units(fit);
    fit->footer(status_footer);
}

void Parser::add_shape() {
    CLI::App* shape =
        add_verb(Verb::shape, "shape", "A bird or a joint by weight and tape: figures and mesh");
    const auto add = [&](const char* option, const char* key, const char* type, const char* about) {
        shape->add_option(option, shape_texts[key], about)->type_name(type);
    };
    add("NAME", "shape", "", "What it is, like turkey or \"leg of lamb\"");
    add("--mass", "mass", "MASS", "Weight on the scale, giblets out: \"13 lb\"");
    add("--trussing", "trussing", "HOW", "Of a bird: tight, \"legs tied\" or loose");
    shape->add_option("--missing", request.shape.missing, "A limb that a bird lacks: \"left wing\"")
        ->type_name("LIMB")
        ->delimiter(',')
        ->allow_extra_args(false);
    add("--stuffing", "stuffing", "MASS", "What is stuffed into it");
    add("--stuffing-density", "stuffing_density", "DENSITY", "As it lies in there: \"700 kg/m3\"");
    add("--giblets", "giblets", "MASS", "What was left in a bird");
    add("--length", "tape.length", "LENGTH", "Over all, by the tape; so are");
    add("--width", "tape.width", "LENGTH", "the width, limbs as they lie,");
    add("--depth", "tape.depth", "LENGTH", "and the depth from back to breast");
    add("--breast-width", "tape.breast_width", "LENGTH", "Of a bird: across the breast alone");
    add("--girth", "tape.girth", "LENGTH", "Of a bird: round it where that is most");
    add("--leg-splay", "tape.leg_splay", "LENGTH", "Of a bird: from one drumstick's end to the other");
    add_units(shape);
    shape->add_option("-o,--output", output, "Write the skin to FILE.ply, whole or not at all")
        ->type_name("FILE");
}

void Parser::add_scan() {
    CLI::App* scan = add_verb(Verb::scan, "scan", "A closed body from a rough scan, or from two of them");
    scan->add_option("RAW", request.scan.raw, "The scan, or one as it lies and one turned over")
        ->type_name("");
    scan->add_option("-o,--output", output, "Write the body to FILE (PLY, metres), whole or not at all")
        ->type_name("FILE");
    scan->add_option("--scan-unit", scan_unit, "m, cm, mm, in or ft, if the format does not say")
        ->type_name("UNIT");
    scan->add_option("--mass", mass, "Scale weight, giblets out: \"13 lb\"")->type_name("MASS");
    scan->add_option("--frame", frame, "auto: the item frame (default); file: the scan's own axes")
        ->type_name("FRAME");
    scan->add_option("--axis", axis, "Where the neck looks in the scan's axes: 1,0,0")->type_name("X,Y,Z");
    scan->add_option("--up", up, "Where the breast looks in the scan's axes: 0,0,1")->type_name("X,Y,Z");
    add_units(scan);
    scan->footer(status_footer);
}

void Parser::add_models() {
    add_verb(Verb::models, "models", "The bodies, rods, forks, and so on that loads can name");
}

void Parser::add_view() {
    CLI::App* view = app.add_subcommand("view", "See the load turn in a window, and move things on the rod");
    view->group("Verbs");
    view->allow_extras();
    verbs[view] = Verb::view;
    view->add_option("LOAD", request.load, "The load file; without one, the last or a demo")->type_name("");
    view->add_flag("--quiet", request.quiet, "No progress on standard error");
    view->add_option("--snapshot", snapshot, "Draw it into a PNG; needs no display")->type_name("FILE");
    view->add_option("--size", size, "Of the picture in pixels (default 1280x720)")->type_name("WxH");
    view->add_option("--scale", picture.scale, "Of letters and lines (default 1)")->type_name("FACTOR");
    view->add_option("--angle", angle, "Of the turn, e.g. \"90 deg\" (default 0)")->type_name("ANGLE");
    view->add_option("--from", picture.from, "home, front, back, drive, point, above, below")
        ->type_name("VIEW");
    view->add_option("--panel", picture.panel, "findings, places, figures or plan")->type_name("PANEL");
    view->add_flag("--inside", picture.inside, "Skin as glass: bones, hollow and tines");
    view->add_option("--units", units, "metric or us (default metric)")
        ->type_name("SYSTEM")
        ->check(CLI::Validator(check_units, ""));
    view->footer(status_footer);
}

std::string one_of(const std::string& option, const std::string& word,
                   const std::vector<std::string>& known) {
    if (std::find(known.begin(), known.end(), word) != known.end()) return word;
    const std::optional<std::string> nearest = nearest_word(word, known);
    throw UsageError(fmt::format("{}: found '{}'; expected one of {}{}", option, word, fmt::join(known, ", "),
                                 nearest ? fmt::format("; did you mean '{}'?", *nearest) : std::string()));
}

// "1280x720"; larger than a wall of screens is a slip.
std::pair<int, int> picture_size(const std::string& text) {
    constexpr int least = 320, most = 8192;
    int width = 0, height = 0;
    const char* const end = text.data() + text.size();
    const auto [after_width, bad_width] = std::from_chars(text.data(), end, width);
    if (bad_width == std::errc() && after_width != end && *after_width == 'x') {
        const auto [after, bad] = std::from_chars(after_width + 1, end, height);
        if (bad == std::errc() && after == end && width >= least && width <= most && height >= least &&
            height <= most)
            return {width, height};
    }
    throw UsageError(
        fmt::format("--size: found '{}'; expected width and height in pixels, {} to {}, like 1280x720", text,
                    least, most));
}

double turn_angle(const std::string& text) {
    try {
        return parse_quantity(text, Dimension::angle);
    } catch (const QuantityError& error) {
        throw UsageError(
            fmt::format("--angle: found {}; expected {}; {}", error.found(), error.expected(), error.mend()));
    }
}

PictureRequest understood_picture(const Parser& parser) {
    PictureRequest picture = parser.picture;
    picture.file = *parser.snapshot;
    if (picture.file.empty()) throw UsageError("--snapshot needs the name of a file");
    std::tie(picture.width, picture.height) = picture_size(parser.size);
    picture.angle_rad = turn_angle(parser.angle);
    one_of("--from", picture.from, {"home", "front", "back", "drive", "point", "above", "below"});
    one_of("--panel", picture.panel, {"findings", "places", "figures", "plan"});
    if (!(picture.scale >= 0.5 && picture.scale <= 4))
        throw UsageError(fmt::format("--scale: found {}; expected a factor from 0.5 to 4", picture.scale));
    return picture;
}

std::string did_you_mean(const std::string& word, const std::vector<std::string>& known) {
    const std::optional<std::string> nearest = nearest_word(word, known);
    return nearest ? fmt::format("; did you mean '{}'?", *nearest) : std::string();
}

std::vector<std::string> verb_names(const CLI::App& app) {
    std::vector<std::string> names;
    for (const CLI::App* verb : app.get_subcommands({})) names.push_back(verb->get_name());
    return names;
}

std::vector<std::string> option_names(const CLI::App& verb) {
    std::vector<std::string> names;
    for (const CLI::Option* option : verb.get_options()) {
        for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    }
    return names;
}

void require_verb(const CLI::App& app, const std::vector<std::string>& arguments) {
    const std::vector<std::string> verbs = verb_names(app);
    if (arguments.empty()) throw UsageError(fmt::format("a verb is missing: {}", fmt::join(verbs, ", ")));
    const std::string& first = arguments.front();
    const std::vector<std::string> own_options = option_names(app);
    if (first == "-h" || std::find(own_options.begin(), own_options.end(), first) != own_options.end())
        return;
    if (first.starts_with("-")) {
        const std::string guess = did_you_mean(first, own_options);
        throw UsageError(
            guess.empty() ? fmt::format("'{}' cannot stand before the verb; options stand behind it", first)
                          : fmt::format("unknown option '{}'{}", first, guess));
    }
    if (std::find(verbs.begin(), verbs.end(), first) == verbs.end()) {
        const std::string guess = did_you_mean(first, verbs);
        throw UsageError(
            fmt::format("unknown verb '{}'{}", first,
                        guess.empty() ? fmt::format("; known are {}", fmt::join(verbs, ", ")) : guess));
    }
}

void refuse_surplus(const CLI::App& verb) {
    std::vector<std::string> surplus = verb.remaining();
    // The parser leaves the mark that ends the options among the words it has no use for.
    std::erase(surplus, "--");
    for (const std::string& word : surplus) {
        if (word.starts_with("-")) {
            const std::string option = word.substr(0, word.find('='));
            throw UsageError(fmt::format("unknown option '{}' for {}{}", option, verb.get_name(),
                                         did_you_mean(option, option_names(verb))));
        }
    }
    if (!surplus.empty()) {
        throw UsageError(
            fmt::format("'{}' is one argument too many for {}", surplus.front(), verb.get_name()));
    }
}

void take_shape(Request& request, const std::map<std::string, std::optional<std::string>>& texts) {
    for (const auto& [key, text] : texts) {
        if (text) request.shape.texts[key] = *text;
    }
    if (!request.shape.texts.contains("shape"))
        throw UsageError(fmt::format("shape needs the name of a body: {}", fmt::join(shape_names(), ", ")));
    if (!request.shape.texts.contains("mass")) throw UsageError("shape needs a weight: --mass \"13 lb\"");
}

[[noreturn]] void refuse_option(const char* option, const QuantityError& error) {
    throw UsageError(
        fmt::format("{}: found {}; expected {}; {}", option, error.found(), error.expected(), error.mend()));
}

Vec3 direction(const char* option, const std::string& text) {
    std::istringstream words(text);
    words.imbue(std::locale::classic());
    Vec3 v;
    char comma = 0, second_comma = 0;
    words >> v.x() >> comma >> v.y() >> second_comma >> v.z();
    const bool understood = words && words.peek() == std::istringstream::traits_type::eof();
    if (!understood || comma != ',' || second_comma != ',' || !(v.norm() > 0))
        throw UsageError(
            fmt::format("{}: found '{}'; expected three numbers, not all zero: 1,0,0", option, text));
    return v;
}

void understand_scan(const Parser& parser, Request& request) {
    ScanRequest& scan = request.scan;
    if (scan.raw.empty()) throw UsageError("scan needs a raw scan: scan RAW.ply -o BODY.ply");
    if (scan.raw.size() > 2) {
        throw UsageError(
            fmt::format("scan takes one scan, or two of the same body; here are {}", scan.raw.size()));
    }
    if (!parser.output) throw UsageError("scan needs the name of the body to write: -o BODY.ply");
    if (std::filesystem::path(*parser.output).extension() != ".ply")
        throw UsageError(
            fmt::format("the body is written as PLY; name '{}' so that it ends in .ply", *parser.output));
    try {
        if (parser.scan_unit) scan.metres_per_unit = parse_length_unit(*parser.scan_unit);
    } catch (const QuantityError& error) {
        refuse_option("--scan-unit", error);
    }
    try {
        if (parser.mass) scan.mass_kg = parse_quantity(*parser.mass, Dimension::mass);
    } catch (const QuantityError& error) {
        refuse_option("--mass", error);
    }
    if (scan.mass_kg && !(*scan.mass_kg > 0)) throw UsageError("--mass: expected a weight above zero");
    if (parser.frame && *parser.frame != "auto" && *parser.frame != "file")
        throw UsageError(fmt::format("--frame: found '{}'; expected auto or file", *parser.frame));
    scan.keep_frame = parser.frame == "file";
    if (parser.axis) scan.axis = direction("--axis", *parser.axis);
    if (parser.up) scan.up = direction("--up", *parser.up);
    if (scan.axis && scan.up && !(scan.axis->normalized().cross(scan.up->normalized()).norm() > 0.1))
        throw UsageError("--axis and --up look the same way; expected them across each other");
}

Request understood(Parser& parser) {
    const CLI::App* verb = parser.app.get_subcommands().front();
    refuse_surplus(*verb);
    Request request = parser.request;
    request.verb = parser.verbs.at(verb);
    if (request.verb == Verb::compare) {
        if (request.loads.empty()) throw UsageError("compare needs load files: compare A.toml B.toml");
        if (request.sweep && request.loads.size() > 1) throw UsageError("--sweep takes one load file");
        if (!request.sweep && request.loads.size() < 2)
            throw UsageError("compare needs a second load file, or --sweep KEY=FROM:TO:STEP");
        request.load = request.loads.front();
    }
    const bool needs_load = request.verb == Verb::check || request.verb == Verb::plan ||
                            request.verb == Verb::compare || request.verb == Verb::fit;
    if (needs_load && request.load.empty()) {
        throw UsageError(fmt::format("{0} needs a load file: {0} LOAD.toml", verb->get_name()));
    }
    if (parser.pick && *parser.pick < 0) throw UsageError("--pick takes the number of an answer, 0 or more");
    if (parser.pick) request.pick = static_cast<std::size_t>(*parser.pick);
    if (request.pick && !parser.output) throw UsageError("--pick says what --output writes; add -o FILE");
    if (request.verb == Verb::shape) take_shape(request, parser.shape_texts);
    if (request.verb == Verb::scan) understand_scan(parser, request);
    if (parser.json && parser.csv) throw UsageError("--json and --csv exclude each other");
    request.format = parser.json ? Format::json : parser.csv ? Format::csv : Format::text;
    request.units = parser.units == "us" ? UnitSystem::us : UnitSystem::metric;
    if (parser.snapshot) {
        if (request.load.empty())
            throw UsageError("view --snapshot needs a load file: view LOAD.toml --snapshot OUT.png");
        request.picture = understood_picture(parser);
    }
    if (parser.output) {
        if (parser.output->empty()) throw UsageError("--output needs the name of a file");
        request.output = *parser.output;
    }
    return request;
}

}  // namespace

std::variant<Request, Answer> parse_command_line(const std::vector<std::string>& arguments) {
    Parser parser;
    require_verb(parser.app, arguments);
    try {
        // The parser takes its words from the back.
        parser.app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
    } catch (const CLI::CallForHelp&) {
        return Answer{parser.app.help()};
    } catch (const CLI::CallForVersion& version) {
        return Answer{std::string(version.what()) + '\n'};
    } catch (const CLI::ParseError& error) {
        throw UsageError(error.what());
    }
    return understood(parser);
}

std::string help_text() {
    return Parser().app.help();
}

}  // namespace evenspit
