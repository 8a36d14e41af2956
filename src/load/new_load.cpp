// SPDX-License-Identifier: MIT
#include "load/new_load.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "load/key_words.h"
#include "load/load_edit.h"
#include "load/load_file.h"
#include "load/models.h"
#include "load/new_load_answer.h"
#include "load/reading.h"
#include "load/rig_reader.h"
#include "load/table_reader.h"
#include "load/toml_tree.h"
#include "units/quantity.h"
#include "units/toml_string.h"

namespace evenspit {
namespace {

/// What a motor without a plate may give for hours, of the torque that stops it. Common practice, no source:
/// what plates of small gear motors tell lies between two and three fifths.
constexpr double rated_of_stall = 0.4;
/// Glowing charcoal, where nothing was measured. Common practice, no source.
constexpr std::string_view usual_coals = "700 degC";
/// How deep coals lie. Common practice, no source; only their top and sides are ever near the load.
constexpr double coal_depth_m = 0.06;

const std::string* found(const NewLoadAnswers& answers, std::string_view id) {
    const auto answer = answers.find(id);
    return answer == answers.end() ? nullptr : &answer->second;
}

/// A length that was worked out of answers, to a tenth of a millimetre, as a tape tells no more.
std::string written_length(double length_m) {
    constexpr double tenths = 1e4;
    return toml_string(exact_quantity(std::round(length_m * tenths) / tenths, Dimension::length));
}

/// Lines of TOML with comments that stand one under the other.
class Lines {
  public:
    void section(std::string_view header, std::string_view about = {}) {
        text_ += '\n';
        put(std::string(header), about);
    }
    /// A value as it stands in the file.
    void value(std::string_view key, const std::string& written, std::string_view about = {}) {
        put(fmt::format("{} = {}", key, written), about);
    }
    void string(std::string_view key, const std::string& text, std::string_view about = {}) {
        value(key, toml_string(text), about);
    }
    void length(std::string_view key, double length_m, std::string_view about = {}) {
        value(key, written_length(length_m), about);
    }
    /// The answer to a question, if there is one.
    void answer(std::string_view key, const NewLoadAnswers& answers, std::string_view id,
                std::string_view about = {}) {
        if (const std::string* const given = found(answers, id)) string(key, *given, about);
    }
    void comment(std::string_view about) { text_ += fmt::format("# {}\n", about); }
    void blank() { text_ += '\n'; }

    [[nodiscard]] const std::string& text() const { return text_; }

  private:
    void put(const std::string& line, std::string_view about) {
        constexpr int comments_at = 34;
        text_ += about.empty() ? line + '\n' : fmt::format("{:{}} # {}\n", line, comments_at, about);
    }

    std::string text_;
};

std::string written_stretch(const std::string& answer) {
    const auto [from, to] = two_places(answer);
    return fmt::format("[{}, {}]", toml_string(from), toml_string(to));
}

std::string written_point(double x_m, double y_m, double z_m) {
    return fmt::format("[{}, {}, {}]", written_length(x_m), written_length(y_m), written_length(z_m));
}

/// A model with what it is, as the list of models tells it.
void put_model(Lines& lines, const NewLoadAnswers& answers, std::string_view kind,
               const std::filesystem::path& models) {
    const std::string& name = answers.find(kind)->second;
    std::string about;
    for (const ModelEntry& entry : list_models(models)) {
        if (entry.kind == kind && entry.name == name) about = entry.summary;
    }
    lines.string("model", name, about);
}

bool is_own(const NewLoadAnswers& answers, std::string_view id) {
    const std::string* const answer = found(answers, id);
    return answer != nullptr && *answer == own_figures;
}

void put_rod(Lines& lines, const NewLoadAnswers& answers, const std::filesystem::path& models) {
    if (found(answers, "rod") == nullptr) return;
    lines.section("[rod]");
    if (!is_own(answers, "rod")) return put_model(lines, answers, "rod", models);
    lines.answer("section", answers, "rod-section");
    lines.answer("width", answers, "rod-width");
    lines.answer("length", answers, "rod-length");
    if (const std::string* const supports = found(answers, "rod-supports"))
        lines.value("supports", written_stretch(*supports), "in the motor, and at the far bearing");
    if (const std::string* const usable = found(answers, "rod-usable"))
        lines.value("usable", written_stretch(*usable), "where meat, forks and weights may sit");
    lines.answer("material", answers, "rod-material");
}

/// "2.55 N m", with where it comes from.
void put_torque(Lines& lines, std::string_view key, const std::string& answer) {
    if (!is_lever_reading(answer)) return lines.string(key, answer);
    lines.string(key, fmt::format("{:.3g} N m", answered_torque_n_m(answer)),
                 fmt::format("measured: {}", answer));
}

const NewLoadQuestion& question_of(std::string_view id) {
    const std::vector<NewLoadQuestion>& all = new_load_questions();
    return *std::find_if(all.begin(), all.end(), [id](const NewLoadQuestion& q) { return q.id == id; });
}

void put_motor(Lines& lines, const NewLoadAnswers& answers, const std::filesystem::path& models) {
    if (found(answers, "motor") == nullptr) return;
    lines.section("[motor]");
    if (!is_own(answers, "motor")) return put_model(lines, answers, "motor", models);
    lines.answer("kind", answers, "motor-kind");
    const std::string* const stall = found(answers, "motor-stall");
    if (const std::string* const rated = found(answers, "motor-rated")) {
        put_torque(lines, "rated_torque", *rated);
    } else if (stall != nullptr) {
        lines.string("rated_torque", fmt::format("{:.3g} N m", rated_of_stall * answered_torque_n_m(*stall)),
                     "two fifths of what stops it, for want of a plate");
    }
    if (stall != nullptr) put_torque(lines, "stall_torque", *stall);
    lines.answer("speed", answers, "motor-speed");
}

double length_of(const NewLoadAnswers& answers, std::string_view id) {
    return parse_quantity(answers.find(id)->second, Dimension::length);
}

void put_plane(Lines& lines, std::string_view name, const std::string& point, std::string_view normal) {
    lines.section("[[cooker.surface]]");
    lines.string("name", std::string(name));
    lines.string("shape", "plane");
    lines.value("point", point);
    lines.value("normal", std::string(normal), "its free side looks this way");
}

void put_own_cooker(Lines& lines, const NewLoadAnswers& answers) {
    lines.answer("wall", answers, "cooker-wall");
    if (found(answers, "coals-across") != nullptr) {
        const std::array<double, 2> along = answered_stretch_m(answers.find("coals-along")->second);
        const double half = length_of(answers, "coals-across") / 2;
        const double top = -length_of(answers, "coals-below");
        lines.section("[[cooker.surface]]", "x along the rod, y to the back, z up, from the rod's middle");
        lines.string("name", "coal bed");
        lines.string("shape", "box");
        lines.value("min", written_point(along[0], -half, top - coal_depth_m));
        lines.value("max", written_point(along[1], half, top));
        lines.value("fire", "true");
        lines.string("temperature", std::string(usual_coals), "glowing charcoal, as a rule");
    }
    if (const std::string* const walls = found(answers, "cooker-walls")) {
        const std::array<double, 2> at = answered_stretch_m(*walls);
        put_plane(lines, "left wall", written_point(at[0], 0, 0), "[1, 0, 0]");
        put_plane(lines, "right wall", written_point(at[1], 0, 0), "[-1, 0, 0]");
    }
    if (found(answers, "cooker-front") != nullptr)
        put_plane(lines, "front wall", written_point(0, -length_of(answers, "cooker-front"), 0), "[0, 1, 0]");
    if (found(answers, "cooker-back") != nullptr)
        put_plane(lines, "back wall", written_point(0, length_of(answers, "cooker-back"), 0), "[0, -1, 0]");
    if (found(answers, "cooker-lid") != nullptr)
        put_plane(lines, "lid", written_point(0, 0, length_of(answers, "cooker-lid")), "[0, 0, -1]");
}

void put_cooker(Lines& lines, const NewLoadAnswers& answers, const std::filesystem::path& models) {
    const std::string* const cooker = found(answers, "cooker");
    if (cooker == nullptr || *cooker == no_cooker) return;
    lines.section("[cooker]");
    if (!is_own(answers, "cooker")) return put_model(lines, answers, "cooker", models);
    put_own_cooker(lines, answers);
}

/// Where things sit until it is known where they should: somewhere on the rod.
double somewhere_m(const NewLoadAnswers& answers) {
    constexpr double on_any_rod = 0.3;
    const std::string* const usable = found(answers, "rod-usable");
    if (usable == nullptr) return on_any_rod;
    const std::array<double, 2> of = answered_stretch_m(*usable);
    return (of[0] + of[1]) / 2;
}

void put_item(Lines& lines, const NewLoadAnswers& answers) {
    const std::string* const roast = found(answers, "roast");
    if (roast == nullptr) return;
    lines.section("[[item]]");
    if (roasts_scan(answers)) {
        lines.string("name", std::filesystem::path(*roast).stem().string());
        lines.string("scan", *roast);
        lines.answer("scan_unit", answers, "scan-unit");
        const std::string* const rough = found(answers, "rough");
        if (rough != nullptr && *rough == "yes")
            lines.value("clean", "true", "a rough scan: closed before it is used");
        const std::string* const carrier = found(answers, "rests-on");
        if (carrier != nullptr && *carrier != as_it_looks)
            lines.string("rests_on", *carrier, "what it lay on while it was scanned");
    } else {
        lines.string("name", *roast);
        lines.string("shape", *roast);
    }
    lines.answer("mass", answers, "mass", "on the scale: thawed, giblets out");
    lines.answer("trussing", answers, "trussing");
    lines.answer("trussing", answers, "legs");
    if (const std::string* const missing = found(answers, "missing")) {
        std::vector<std::string> limbs;
        for (const std::string& limb : listed_words(*missing)) limbs.push_back(toml_string(limb));
        lines.value("missing", fmt::format("[{}]", fmt::join(limbs, ", ")), "not on the scale");
    }
    lines.answer("stuffing", answers, "stuffing", "on top of the scale weight");
    std::vector<std::string> tape;
    for (const char* const measure : {"length", "girth"}) {
        if (const std::string* const given = found(answers, std::string("tape-") + measure))
            tape.push_back(fmt::format("{} = {}", measure, toml_string(*given)));
    }
    if (!tape.empty()) lines.value("tape", fmt::format("{{ {} }}", fmt::join(tape, ", ")));
    lines.length("at", somewhere_m(answers), "its middle, from the rod's square end");
}

/// The tines of an own fork, the first at clock 0, all of them as far from one another.
void put_tines(Lines& lines, const NewLoadAnswers& answers) {
    constexpr double full_turn_deg = 360;
    const std::string* const count = found(answers, "fork-tines");
    if (count == nullptr || found(answers, "fork-thickness") == nullptr) return;
    const std::size_t tines = std::stoul(*count);
    std::string rows = "[\n";
    for (std::size_t n = 0; n < tines; ++n) {
        rows += fmt::format("    {{ clock = \"{:.4g} deg\", radius = {}, length = {}, diameter = {} }},\n",
                            full_turn_deg * static_cast<double>(n) / static_cast<double>(tines),
                            toml_string(answers.find("fork-radius")->second),
                            toml_string(answers.find("fork-length")->second),
                            toml_string(answers.find("fork-thickness")->second));
    }
    lines.value("tine", rows + "]");
}

void put_forks(Lines& lines, const NewLoadAnswers& answers, const std::filesystem::path& models) {
    const std::string* const number = found(answers, "forks");
    if (number == nullptr) return;
    const std::size_t count = std::stoul(*number);
    for (std::size_t n = 0; n < count; ++n) {
        const bool at_drive = 2 * n < count;
        lines.section("[[fork]]", at_drive ? "at the end next to the motor" : "at the end next to the point");
        if (is_own(answers, "fork")) {
            lines.answer("mass", answers, "fork-mass");
        } else {
            put_model(lines, answers, "fork", models);
        }
        lines.length("at", somewhere_m(answers), "its hub, from the rod's square end");
        lines.string("points", word_for(facing_words(), at_drive ? Facing::point : Facing::drive),
                     "which way its tines look");
        if (is_own(answers, "fork")) put_tines(lines, answers);
    }
}

void put_stock(Lines& lines, const NewLoadAnswers& answers) {
    if (found(answers, "weight-diameter") == nullptr) return;
    lines.section("[stock]", "what plan and roll may hang on");
    lines.value("counterweights", fmt::format("[ {{ mass = {}, radius = {}, diameter = {} }} ]",
                                              toml_string(answers.find("weight")->second),
                                              written_stretch(answers.find("weight-radius")->second),
                                              toml_string(answers.find("weight-diameter")->second)));
}

void put_cook(Lines& lines, const NewLoadAnswers& answers) {
    // Over a fire in the open no temperature is asked: it holds none.
    if (found(answers, "temperature") == nullptr && found(answers, "fuel") == nullptr) return;
    lines.section("[cook]");
    lines.answer("cooker_temperature", answers, "temperature");
    lines.answer("fuel", answers, "fuel");
    lines.answer("serve", answers, "serve", "on the table; the card counts back from it");
    lines.comment(
        "Without pull it comes off when its coldest place is safe by USDA's rule. A thermometer decides.");
    lines.comment(weighs_in_pounds(answers) ? "pull = { breast = \"162 degF\", thigh = \"172 degF\" }"
                                            : "pull = { breast = \"72 degC\", thigh = \"78 degC\" }");
}

/// "13 lb turkey"
std::string title_of(const NewLoadAnswers& answers) {
    const std::string* const roast = found(answers, "roast");
    const std::string* const mass = found(answers, "mass");
    if (roast == nullptr) return {};
    const std::string name = roasts_scan(answers) ? std::filesystem::path(*roast).stem().string() : *roast;
    return mass != nullptr ? fmt::format("{} {}", *mass, name) : name;
}

/// A complaint is about the question whose answer stands at its key; else about none.
const NewLoadQuestion* question_at(const std::string& key, const NewLoadAnswers& answers) {
    if (key.empty()) return nullptr;
    for (const NewLoadQuestion& question : new_load_questions()) {
        const bool models = key == question.id + ".model" || key == question.id + "[1].model";
        if (models || (!question.key.empty() && question.key == key && answers.contains(question.id)))
            return &question;
    }
    const bool of_scan = key == "item[1].scan" || key == "item[1].shape";
    return of_scan ? &question_of("roast") : nullptr;
}

}  // namespace

std::string new_load_text(const NewLoadAnswers& answers, const std::filesystem::path& models) {
    Lines lines;
    lines.comment(
        "A load for evenspit. Every quantity has its unit; `evenspit keys` tells what else can stand here.");
    lines.string("title", title_of(answers));
    put_rod(lines, answers, models);
    put_motor(lines, answers, models);
    put_cooker(lines, answers, models);
    put_item(lines, answers);
    put_forks(lines, answers, models);
    put_stock(lines, answers);
    put_cook(lines, answers);
    return lines.text();
}

Cooker cooker_of(const NewLoadAnswers& answers, const std::filesystem::path& models) {
    Lines lines;
    put_cooker(lines, answers, models);
    // What is wrong with an answer is told where it is given.
    Reading reading;
    reading.models = models;
    const TomlNode root = parse_toml(lines.text(), "");
    TableReader reader(root, key_table(""), "", reading.complaints);
    std::optional<TableReader> cooker = reader.table("cooker");
    return cooker ? read_cooker(*cooker, reading) : Cooker{};
}

std::optional<Complaint> complaint_about(const NewLoadQuestion& question, const NewLoadAnswers& answers,
                                         const std::filesystem::path& models) {
    if (question.key.empty()) return std::nullopt;
    NewLoadAnswers asked = answers;
    // A raw scan takes seconds to read; it is read once, when all is there.
    if (roasts_scan(answers)) asked.erase("roast");
    try {
        read_load_text(new_load_text(asked, models), "", models);
    } catch (const InputError& error) {
        for (const Complaint& complaint : error.complaints()) {
            if (question_at(complaint.key, answers) == &question) return complaint;
        }
    }
    return std::nullopt;
}

InputError by_question(const InputError& error, const NewLoadAnswers& answers) {
    std::vector<Complaint> told;
    for (Complaint complaint : error.complaints()) {
        const NewLoadQuestion* const question = question_at(complaint.key, answers);
        if (question != nullptr) complaint.key = question->id;
        if (question != nullptr) complaint.spot = {};
        told.push_back(std::move(complaint));
    }
    return InputError(std::move(told));
}

}  // namespace evenspit
