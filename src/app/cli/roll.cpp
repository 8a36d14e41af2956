// SPDX-License-Identifier: MIT
#include <algorithm>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "app/cli/common_words.h"
#include "app/cli/kept_shapes.h"
#include "app/cli/model_folder.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "cook/cook_course.h"
#include "files/whole_file.h"
#include "load/key_words.h"
#include "load/load_edit.h"
#include "load/load_file.h"
#include "report/roll_report.h"
#include "trim/trim.h"
#include "units/listed.h"
#include "units/metric.h"
#include "units/quote.h"

namespace evenspit {
namespace {

using enum Dimension;

/// What the command line says of a test; which counterweights were on is told once the load is read.
struct SaidTest {
    RollTest test{};
    std::optional<RollsOn> on{};
    std::optional<std::vector<std::string>> counterweights{};  ///< absent: all
};

std::optional<HungWeight> hung_weight(const Words& words) {
    const std::vector<std::string> options = {"--weight", "--radius", "--clock"};
    std::vector<std::string> there, missing;
    for (const std::string& option : options) (words.text(option) ? there : missing).push_back(option);
    if (there.empty()) return std::nullopt;
    if (!missing.empty()) {
        throw UsageError(
            fmt::format("{} without {}: give weight, radius and clock of what was hung on, or "
                        "none of them",
                        listed(there, "and"), listed(missing, "and")));
    }
    return HungWeight{option_quantity("--weight", *words.text("--weight"), mass, Range::positive),
                      option_quantity("--radius", *words.text("--radius"), length, Range::positive),
                      option_quantity("--clock", *words.text("--clock"), angle, Range::any)};
}

/// Nothing where no test is told: those of the load file are folded in alone.
std::optional<SaidTest> said_test(const Words& words) {
    const auto down = words.text("--down");
    if (!down) {
        for (const char* const option :
             {"--weight", "--radius", "--clock", "--on", "--read", "--counterweights"}) {
            if (words.text(option))
                throw UsageError(
                    fmt::format("{} belongs to a roll test: add --down \"210 deg\", the clock at the "
                                "bottom, or --down none",
                                option));
        }
        return std::nullopt;
    }
    SaidTest said;
    if (*down != "none") {
        try {
            said.test.down_rad = parse_quantity_within(*down, angle, Range::any);
        } catch (const QuantityError& error) {
            refuse_option("--down", error.found(), "the clock at the bottom, or none if it stayed anywhere",
                          error.mend());
        }
    }
    said.test.hung = hung_weight(words);
    if (const auto on = words.text("--on")) {
        std::vector<std::string> known;
        for (const auto& [word, value] : rolls_on_words()) known.push_back(word);
        const std::string word = one_of("--on", *on, known);
        for (const auto& [name, value] : rolls_on_words()) {
            if (name == word) said.on = value;
        }
        said.test.on = said.on.value_or(said.test.on);
    }
    if (const auto read = words.text("--read")) {
        said.test.read_rad = option_quantity("--read", *read, angle, Range::not_negative);
        if (said.test.read_rad > widest_reading_rad)
            refuse_option("--read", in_quotes(*read),
                          fmt::format("an angle of at most {}", metric(widest_reading_rad, angle)));
    }
    if (words.text("--counterweights")) said.counterweights = words.texts("--counterweights");
    return said;
}

/// Those that were on, from 0.
std::vector<std::size_t> counterweights_on(const SaidTest& said, std::size_t count) {
    std::vector<std::size_t> on;
    if (!said.counterweights) {
        for (std::size_t i = 0; i < count; ++i) on.push_back(i);
        return on;
    }
    if (*said.counterweights == std::vector<std::string>{"none"}) return on;
    for (const std::string& text : *said.counterweights) {
        const std::size_t number = whole_number(text).value_or(0);
        const bool fits = number >= 1 && number <= count;
        if (!fits || std::find(on.begin(), on.end(), number - 1) != on.end()) {
            refuse_option("--counterweights", in_quotes(text),
                          count == 0 ? std::string("none: the load has no counterweight")
                                     : fmt::format("none, or numbers from 1 to {}, each once", count));
        }
        on.push_back(number - 1);
    }
    std::sort(on.begin(), on.end());
    return on;
}

/// The load with the test that was told in it.
Assembly with_test(const Assembly& written, const SaidTest& said) {
    if (const std::string why = why_it_locks(written.rod, said.on); !why.empty()) {
        throw UsageError(
            fmt::format("{}: slip two bushings on it, roll it again and say --on bushings", why));
    }
    Assembly rolled = written;
    RollTest test = said.test;
    test.counterweights = counterweights_on(said, written.counterweights.size());
    test.as_rolled = rolled_marks(written, test.counterweights);
    rolled.roll_tests.push_back(std::move(test));
    return rolled;
}

Outcome roll(const Request& request, const std::optional<SaidTest>& said, int mountings,
             const Surroundings& around, Progress& progress) {
    const std::filesystem::path& load = request.inputs.front();
    progress.now("reading " + load.filename().string());
    const Assembly written = read_load(load, model_folder(around), kept_shapes(around).get());
    const Assembly rolled = cook::cooked_load(said ? with_test(written, *said) : written).load;
    if (!was_rolled(rolled)) {
        throw UsageError(
            fmt::format("{} has no roll test that counts: say how it came to rest, --down \"210 deg\" "
                        "(the clock at the bottom) or --down none",
                        load.filename().string()));
    }
    progress.now("taking the roll test into account and looking for a counterweight");
    const Trim trimmed = trim(rolled, mountings);
    progress.done();

    Outcome outcome;
    outcome.status = trimmed.after.verdict == Level::stop ? computed_stop : computed;
    outcome.text = request.format == Format::json ? roll_json(rolled, trimmed)
                                                  : roll_text(rolled, trimmed, text_options(request, around));
    if (request.output) {
        const std::string edited = edited_load(read_whole_file(load), written, trimmed.trimmed);
        outcome.file = moved_load(edited, written.file, load.parent_path(), request.output->parent_path());
    }
    return outcome;
}

}  // namespace

Verb roll_verb() {
    using enum WordSpec::Kind;
    return {.name = "roll",
            .summary = "What a roll test tells, and the counterweight that trims",
            .example = "roll samples/roll-test/turkey.toml --down \"210 deg\" -o trimmed.toml",
            .words = {load_operand(),
                      {value, "--down", "Clock at the bottom: \"210 deg\"; none: it stays anywhere", "CLOCK"},
                      {value, "--weight", "What was hung on until it stayed anywhere: \"300 g\",", "MASS"},
                      {value, "--radius", "so far from the rod's middle,", "LENGTH"},
                      {value, "--clock", "at that clock: 3 o'clock is 0 deg, 12 is 90 deg", "CLOCK"},
                      {value, "--on", "bushings, journals or rollers (default bushings)", "WHAT",
                       names_of(rolls_on_words())},
                      {values, "--counterweights", "Those that were on: 1,2 or none (default all)", "N"},
                      {value, "--read", "How well the clock was read (default \"5 deg\")", "ANGLE"},
                      json_flag(),
                      quiet_flag(),
                      units_option(),
                      mountings_option(),
                      output_option("Write the load file, test and counterweight in it, to FILE")},
            .understand = [](const Words& words) {
                Request request = load_request(words, "roll");
                request.text_to_output = false;
                request.deed = [said = said_test(words), mountings = mountings_of(words, usual_mountings)](
                                   const Request& asked, const Surroundings& around, Progress& progress) {
                    return roll(asked, said, mountings, around, progress);
                };
                return request;
            }};
}

}  // namespace evenspit
