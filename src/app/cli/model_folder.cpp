// SPDX-License-Identifier: MIT
#include "app/cli/model_folder.h"

#include <array>
#include <system_error>

namespace evenspit {

std::filesystem::path model_folder(const Surroundings& around) {
    if (around.has("EVENSPIT_MODELS")) return *around.variable("EVENSPIT_MODELS");
    const std::filesystem::path home = around.program.parent_path();
    const std::array candidates = {(home / EVENSPIT_MODELS_FROM_PROGRAM).lexically_normal(), home / "models"};
    for (const std::filesystem::path& folder : candidates) {
        std::error_code ignored;
        if (std::filesystem::is_directory(folder, ignored)) return folder;
    }
    return candidates.front();
}

}  // namespace evenspit
