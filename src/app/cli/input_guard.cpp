// SPDX-License-Identifier: MIT
#include "app/cli/input_guard.h"

#include <filesystem>
#include <system_error>
#include <vector>

#include <fmt/format.h>

#include "app/cli/model_folder.h"
#include "load/path_keys.h"

namespace evenspit {
namespace {

std::vector<OtherOutput> outputs_of(const Request& request) {
    std::vector<OtherOutput> all;
    if (request.output) all.push_back({request.output_option, *request.output});
    all.insert(all.end(), request.others.begin(), request.others.end());
    return all;
}

}  // namespace

void refuse_writing_over_input(const Request& request, const Surroundings& around) {
    const std::vector<OtherOutput> outputs = outputs_of(request);
    if (outputs.empty()) return;
    std::vector<std::filesystem::path> read = request.inputs;
    for (const std::filesystem::path& load : request.inputs) {
        if (!request.inputs_are_loads) break;
        const std::vector<std::filesystem::path> named = files_of_load(load, model_folder(around));
        read.insert(read.end(), named.begin(), named.end());
    }
    for (const OtherOutput& output : outputs) {
        for (const std::filesystem::path& file : read) {
            // Behind every link and name that it may have; what is not there cannot be lost.
            std::error_code not_both_there;
            if (!std::filesystem::equivalent(output.path, file, not_both_there)) continue;
            throw UsageError(fmt::format("{}: '{}' is what the result is made from; name another file",
                                         output.option, output.path.string()));
        }
    }
}

void refuse_one_output_twice(const Request& request) {
    const std::vector<OtherOutput> outputs = outputs_of(request);
    for (std::size_t i = 0; i < outputs.size(); ++i) {
        for (std::size_t j = i + 1; j < outputs.size(); ++j) {
            std::error_code unknown;
            const auto place = std::filesystem::weakly_canonical(outputs[i].path, unknown);
            const bool device =
                std::filesystem::exists(place, unknown) && !std::filesystem::is_regular_file(place, unknown);
            if (device || place != std::filesystem::weakly_canonical(outputs[j].path, unknown)) continue;
            throw UsageError(fmt::format("{} and {} both name '{}'; name another file for one of them",
                                         outputs[i].option, outputs[j].option, outputs[j].path.string()));
        }
    }
}

}  // namespace evenspit
