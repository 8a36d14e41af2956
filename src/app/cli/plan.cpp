// SPDX-License-Identifier: MIT
#include "plan/plan.h"

#include <optional>
#include <string_view>

#include <fmt/format.h>

#include "analysis/chance.h"
#include "app/cli/common_words.h"
#include "app/cli/kept_shapes.h"
#include "app/cli/model_folder.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "cook/cook_course.h"
#include "files/whole_file.h"
#include "load/load_change.h"
#include "load/load_edit.h"
#include "load/load_file.h"
#include "plan/load_changes.h"
#include "report/plan_report.h"
#include "units/quote.h"

namespace evenspit {

namespace {

/// An answer as its own cook leaves it: how a body is turned and where the rod runs change what heats it, a
/// little, and who checks the load that is written finds just that.
void judge_by_its_cook(plan::PlanAnswer& answer, const Assembly& assembly, int mountings) {
    Assembly after = with_arrangement(plan::load_of(answer, assembly), answer.arrangement);
    answer.analysis = cook::judged_load(std::move(after), mountings).analysis;
}

Outcome planned(const Request& request, plan::PlanWish wish, const Surroundings& around, Progress& progress) {
    const std::filesystem::path& load = request.inputs.front();
    progress.now("reading " + load.filename().string());
    const std::filesystem::path models = model_folder(around);
    Assembly written = read_load(load, models, kept_shapes(around).get());
    if (can_roast(written)) progress.now("roasting it coarsely");
    const cook::CookedLoad cooked = cook::cooked_load(std::move(written));
    const Assembly& assembly = cooked.load;
    const std::string text = read_whole_file(load);
    // Whoever says what may be moved wants nothing else touched.
    if (wish.may == plan::MayMove{}) wish.change = plan::changes_of_file(assembly, text, load, models);
    progress.now("looking for rod line, forks and counterweights");
    plan::Plan found = plan::make_plan(assembly, {}, {}, wish);
    const std::size_t pick = wish.wanted.value_or(found.recommended);
    if (pick >= found.answers.size()) {
        throw UsageError(fmt::format("--pick {}: there is no such answer, the last is {}", pick,
                                     found.answers.size() - 1));
    }
    if (cooked.course) {
        progress.now("roasting the answer coarsely");
        for (plan::PlanAnswer& answer : found.answers) cook::add_cook(answer.analysis, *cooked.course);
        judge_by_its_cook(found.answers[pick], assembly, wish.mountings);
        if (pick != found.recommended)
            judge_by_its_cook(found.answers[found.recommended], assembly, wish.mountings);
    }
    progress.done();
    Outcome outcome;
    outcome.status = found.answers[pick].analysis.verdict == Level::stop ? computed_stop : computed;
    outcome.text = request.format == Format::json ? plan_json(assembly, found)
                                                  : plan_text(assembly, found, text_options(request, around));
    if (request.output) {
        const plan::PlanAnswer& answer = found.answers[pick];
        const Assembly& before = plan::load_of(answer, assembly);
        const std::string edited = edited_load(changed_load(text, load.string(), answer.changes, models),
                                               before, with_arrangement(before, answer.arrangement));
        outcome.file = moved_load(edited, assembly.file, load.parent_path(), request.output->parent_path());
    }
    return outcome;
}

std::optional<std::size_t> picked(const Words& words) {
    const auto text = words.text("--pick");
    if (!text) return std::nullopt;
    if (!words.text("--output")) throw UsageError("--pick says what --output writes; add -o FILE");
    const std::optional<std::size_t> number = whole_number(*text);
    if (!number) refuse_option("--pick", in_quotes(*text), "the number of an answer, 0 or more");
    return number;
}

plan::MayMove movable(const Words& words) {
    const auto text = words.text("--move");
    if (!text) return {};
    plan::MayMove may{
        .line = false, .turn = false, .stations = false, .forks = false, .counterweights = false};
    std::string_view rest = *text;
    while (true) {
        const std::string_view word = rest.substr(0, rest.find(','));
        bool* const which = word == "line"             ? &may.line
                            : word == "turn"           ? &may.turn
                            : word == "stations"       ? &may.stations
                            : word == "forks"          ? &may.forks
                            : word == "counterweights" ? &may.counterweights
                                                       : nullptr;
        if (which == nullptr) {
            refuse_option("--move", in_quotes(*text),
                          "some of line, turn, stations, forks, counterweights, with commas between");
        }
        *which = true;
        if (word.size() == rest.size()) return may;
        rest.remove_prefix(word.size() + 1);
    }
}

}  // namespace

Verb plan_verb() {
    return {.name = "plan",
            .summary = "Where rod, forks and counterweights should go",
            .example = "plan samples/one-legged-goose.toml -o better.toml",
            .words = {load_operand(),
                      json_flag(),
                      quiet_flag(),
                      output_option("Write the load file with the answer in it to FILE"),
                      {WordSpec::Kind::value, "--pick", "The answer to write (default: the recommended one)",
                       "N"},
                      {WordSpec::Kind::value,
                       "--move",
                       "What may be moved: line,turn,stations,forks,counterweights",
                       "LIST",
                       {"line", "turn", "stations", "forks", "counterweights"}},
                      mountings_option(),
                      units_option()},
            .understand = [](const Words& words) {
                Request request = load_request(words, "plan");
                request.text_to_output = false;
                const plan::PlanWish wish{.may = movable(words),
                                          .mountings = mountings_of(words, usual_mountings),
                                          .wanted = picked(words)};
                request.deed = [wish](const Request& asked, const Surroundings& around, Progress& progress) {
                    return planned(asked, wish, around, progress);
                };
                return request;
            }};
}

}  // namespace evenspit
