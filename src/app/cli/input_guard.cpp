// SPDX-License-Identifier: MIT
#include "app/cli/input_guard.h"

#include <filesystem>
#include <system_error>
#include <vector>

#include <fmt/format.h>

#include "app/cli/model_folder.h"
#include "load/path_keys.h"

namespace evenspit {

void refuse_writing_over_input(const Request& request, const Surroundings& around) {
    if (!request.output) return;
    std::vector<std::filesystem::path> read = request.inputs;
    for (const std::filesystem::path& load : request.inputs) {
        if (!request.inputs_are_loads) break;
        const std::vector<std::filesystem::path> named = files_of_load(load, model_folder(around));
        read.insert(read.end(), named.begin(), named.end());
    }
    for (const std::filesystem::path& file : read) {
        // Behind every link and name that it may have; what is not there cannot be lost.
        std::error_code not_both_there;
        if (!std::filesystem::equivalent(*request.output, file, not_both_there)) continue;
        throw UsageError(fmt::format("{}: '{}' is what the result is made from; name another file",
                                     request.output_option, request.output->string()));
    }
}

}  // namespace evenspit
