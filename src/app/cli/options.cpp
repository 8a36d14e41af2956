// SPDX-License-Identifier: MIT
// The only unit that sees the parser's header, which takes long to compile.
#include "app/cli/options.h"

#include <algorithm>
#include <deque>
#include <memory>
#include <optional>
#include <utility>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "app/cli/common_words.h"
#include "app/cli/help_rows.h"
#include "app/cli/verbs.h"
#include "report/tool.h"

namespace evenspit {
namespace {

constexpr int option_column = 22;

std::string rows_text(std::string_view head, const std::vector<HelpRow>& rows, std::size_t column) {
    std::string text = fmt::format("{}:", head);
    for (const HelpRow& row : rows) text += fmt::format("\n  {:{}}{}", row.name, column - 2, row.about);
    return text;
}

std::string status_footer() {
    return rows_text("Exit status", status_rows(), 7);
}

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

// Where the parser writes what it reads for one word of a verb.
struct Slot {
    Slot(const Verb& of_verb, const WordSpec& of_word) : verb(&of_verb), spec(&of_word) {}

    const Verb* verb;
    const WordSpec* spec;
    bool flag = false;
    std::optional<std::string> text{};
    std::vector<std::string> texts{};
};

// The parser writes into members, so that all of it lives in one place that does not move.
class Parser {
  public:
    Parser();
    Parser(const Parser&) = delete;
    Parser& operator=(const Parser&) = delete;

    CLI::App app{std::string(program_summary()), std::string(tool_name())};

    /// \throws UsageError for an option that has to have a value behind it, and has none
    void require_values(const std::vector<std::string>& arguments) const;
    // What stands behind the verb that was found.
    [[nodiscard]] Request understood() const;

  private:
    void add(const Verb& verb);
    void add(CLI::App& sub, Slot& slot);

    const std::vector<Verb> verbs_ = all_verbs();
    std::deque<Slot> slots_;
};

Parser::Parser() {
    app.formatter(std::make_shared<HelpFormatter>());
    app.set_help_flag("-h,--help", help_about);
    app.set_version_flag("--version", fmt::format("{} {}", tool_name(), tool_version()), version_about);
    for (const Verb& verb : verbs_) add(verb);
    app.footer(status_footer() + "\n\n" + rows_text("Environment", environment_rows(), option_column));
}

void Parser::add(const Verb& verb) {
    CLI::App* const sub = app.add_subcommand(verb.name, verb.summary);
    sub->group("Verbs");
    sub->allow_extras();
    for (const WordSpec& spec : verb.words) add(*sub, slots_.emplace_back(verb, spec));
    std::string footer;
    if (!verb.example.empty()) footer = fmt::format("Example:\n  {} {}", tool_name(), verb.example);
    if (verb.tells_status) footer += (footer.empty() ? "" : "\n\n") + status_footer();
    sub->footer(footer);
}

void Parser::add(CLI::App& sub, Slot& slot) {
    const WordSpec& spec = *slot.spec;
    switch (spec.kind) {
        case WordSpec::Kind::flag:
            sub.add_flag(spec.names, slot.flag, spec.about);
            break;
        case WordSpec::Kind::operand:
            sub.add_option(spec.names, slot.text, spec.about)->type_name(spec.type);
            break;
        case WordSpec::Kind::value:
            // Told in our own words when it is given more than once.
            sub.add_option(spec.names, slot.text, spec.about)
                ->type_name(spec.type)
                ->multi_option_policy(CLI::MultiOptionPolicy::TakeLast);
            break;
        case WordSpec::Kind::operands:
            sub.add_option(spec.names, slot.texts, spec.about)->type_name(spec.type);
            break;
        case WordSpec::Kind::values:
            sub.add_option(spec.names, slot.texts, spec.about)
                ->type_name(spec.type)
                ->delimiter(',')
                ->allow_extra_args(false);
            break;
    }
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

void Parser::require_values(const std::vector<std::string>& arguments) const {
    for (const Slot& slot : slots_) {
        const WordSpec& spec = *slot.spec;
        const bool has_value = spec.kind == WordSpec::Kind::value || spec.kind == WordSpec::Kind::values;
        if (slot.verb->name != arguments.front() || !has_value) continue;
        const std::string names = "," + spec.names + ",";
        for (std::size_t i = 1; i < arguments.size() && arguments[i] != "--"; ++i) {
            const bool last = i + 1 == arguments.size() || arguments[i + 1].starts_with("--");
            if (last && names.find("," + arguments[i] + ",") != std::string::npos)
                throw UsageError(fmt::format("{0} needs a value: {0} {1}", arguments[i], spec.type));
        }
    }
}

// The parser takes the last one; which of them is meant nobody knows.
void refuse_twice(const CLI::App& verb) {
    for (const CLI::Option* option : verb.get_options()) {
        const bool takes_last = option->get_multi_option_policy() == CLI::MultiOptionPolicy::TakeLast;
        if (takes_last && option->get_items_expected_max() == 1 && option->results().size() > 1)
            throw UsageError(fmt::format("{} is given {} times; give it once", option->get_name(),
                                         option->results().size()));
    }
}

Request Parser::understood() const {
    const CLI::App* const found = app.get_subcommands().front();
    refuse_surplus(*found);
    refuse_twice(*found);
    const auto verb = std::find_if(verbs_.begin(), verbs_.end(),
                                   [&](const Verb& known) { return known.name == found->get_name(); });
    Words words;
    for (const Slot& slot : slots_) {
        if (slot.verb != &*verb) continue;
        const std::string key = slot.spec->key();
        if (slot.flag) words.add_flag(key);
        if (slot.text) words.add(key, *slot.text);
        for (const std::string& text : slot.texts) words.add(key, text);
    }
    Request request = verb->understand(words);
    request.verb = verb->name;
    return request;
}

}  // namespace

std::variant<Request, Answer> parse_command_line(const std::vector<std::string>& arguments) {
    Parser parser;
    require_verb(parser.app, arguments);
    parser.require_values(arguments);
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
    return parser.understood();
}

std::string help_text() {
    return Parser().app.help();
}

}  // namespace evenspit
