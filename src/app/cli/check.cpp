// SPDX-License-Identifier: MIT
#include "analysis/chance.h"
#include "app/cli/common_words.h"
#include "app/cli/kept_shapes.h"
#include "app/cli/model_folder.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "cook/cook_course.h"
#include "load/load_file.h"
#include "report/report.h"

namespace evenspit {

namespace {

Outcome check(const Request& request, int mountings, const Surroundings& around, Progress& progress) {
    progress.now("reading " + request.inputs.front().filename().string());
    Assembly written = read_load(request.inputs.front(), model_folder(around), kept_shapes(around).get());
    if (can_roast(written)) progress.now("roasting it coarsely");
    const cook::CookedLoad cooked = cook::cooked_load(std::move(written));
    const Assembly& assembly = cooked.load;
    progress.now("working out balance, grip and clearance");
    Analysis analysis = analyse(assembly);
    if (mountings > 0) progress.now("mounting it again and again");
    add_mountings(analysis, assembly, mountings);
    if (cooked.course) cook::add_cook(analysis, *cooked.course);
    progress.done();

    Outcome outcome;
    outcome.status = analysis.verdict == Level::stop ? computed_stop : computed;
    switch (request.format) {
        case Format::text:
            outcome.text = text_report(assembly, analysis, text_options(request, around));
            break;
        case Format::json:
            outcome.text = json_report(assembly, analysis);
            break;
        case Format::csv:
            outcome.text = csv_report(analysis);
            break;
    }
    return outcome;
}

}  // namespace

Verb check_verb() {
    return {.name = "check",
            .summary = "Balance, turning, rod, grip, clearance, and the verdict",
            .example = "check samples/harvest-turkey.toml",
            .words = {load_operand(), json_flag(), quiet_flag(),
                      csv_flag("The curves as CSV: torque, sag, moment, radius"), units_option(),
                      mountings_option(), output_option("Write the result to FILE, whole or not at all")},
            .understand = [](const Words& words) {
                Request request = load_request(words, "check");
                request.deed = [mountings = mountings_of(words, usual_mountings)](
                                   const Request& asked, const Surroundings& around, Progress& progress) {
                    return check(asked, mountings, around, progress);
                };
                return request;
            }};
}

}  // namespace evenspit
