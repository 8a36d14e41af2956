// SPDX-License-Identifier: MIT
#include "plan/fit.h"

#include "app/cli/common_words.h"
#include "app/cli/kept_shapes.h"
#include "app/cli/model_folder.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "cook/cook_course.h"
#include "files/whole_file.h"
#include "load/load_change.h"
#include "load/load_file.h"
#include "report/plan_report.h"
#include "units/quantity.h"

namespace evenspit {
namespace {

Outcome fit(const Request& request, int mountings, const Surroundings& around, Progress& progress) {
    const std::filesystem::path models = model_folder(around);
    progress.now("reading " + request.inputs.front().filename().string());
    const Assembly assembly = read_load(request.inputs.front(), models, kept_shapes(around).get());
    const std::string text = read_whole_file(request.inputs.front());
    double mass_kg = 0;
    for (const Item& item : assembly.items) mass_kg += item.body->mass.amount;
    for (const Fork& fork : assembly.forks) mass_kg += fork.cage.contents_kg;
    const plan::Fit found = plan::find_fit(
        [&](double factor) {
            progress.now("planning for " + format_quantity(factor * mass_kg, Dimension::mass, request.units));
            // A larger body is in the fire for longer, and loses more.
            return cook::cooked_load(factor == 1 ? assembly
                                                 : read_load_text(heavier_load(text, assembly, factor),
                                                                  request.inputs.front(), models))
                .load;
        },
        mass_kg, mountings);
    progress.done();
    return {request.format == Format::json ? fit_json(assembly, found)
                                           : fit_text(assembly, found, text_options(request, around)),
            found.largest_kg ? computed : computed_stop};
}

}  // namespace

Verb fit_verb() {
    return {.name = "fit",
            .summary = "How large a body rod, motor and cooker can take",
            .example = "fit samples/leg-of-lamb.toml --mountings 16",
            .words = {load_operand(), json_flag(), quiet_flag(), mountings_option(plan::answer_mountings),
                      units_option()},
            .understand = [](const Words& words) {
                Request request = load_request(words, "fit");
                request.deed = [mountings = mountings_of(words, plan::answer_mountings)](
                                   const Request& asked, const Surroundings& around, Progress& progress) {
                    return fit(asked, mountings, around, progress);
                };
                return request;
            }};
}

}  // namespace evenspit
