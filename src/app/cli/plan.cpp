// SPDX-License-Identifier: MIT
#include "plan/plan.h"

#include <fmt/format.h>

#include "app/cli/model_folder.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "files/whole_file.h"
#include "load/load_edit.h"
#include "load/load_file.h"
#include "report/plan_report.h"

namespace evenspit {

Outcome plan(const Request& request, const Surroundings& around, Progress& progress) {
    progress.now("reading " + request.load.filename().string());
    const Assembly assembly = read_load(request.load, model_folder(around));
    progress.now("seeking rod line, forks and counterweights");
    const Plan found = make_plan(assembly);
    progress.done();

    const std::size_t pick = request.pick.value_or(found.recommended);
    if (pick >= found.answers.size()) {
        throw UsageError(fmt::format("--pick {}: there is no such answer, the last is {}", pick,
                                     found.answers.size() - 1));
    }
    Outcome outcome;
    outcome.status = found.answers[pick].analysis.verdict == Level::stop ? computed_stop : computed;
    outcome.text = request.format == Format::json ? plan_json(assembly, found)
                                                  : plan_text(assembly, found, text_options(request, around));
    if (request.output) {
        const std::string edited = edited_load(read_whole_file(request.load), assembly,
                                               with_setting(assembly, found.answers[pick].setting));
        outcome.file =
            moved_load(edited, assembly.file, request.load.parent_path(), request.output->parent_path());
    }
    return outcome;
}

}  // namespace evenspit
