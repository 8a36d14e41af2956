// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace evenspit {

/// One file of the model library.
struct ModelEntry {
    std::string kind;     ///< "rod", "fork", "motor", "cooker", "material"; the folder's name in the plural
    std::string name;     ///< file name without ".toml"
    std::string summary;  ///< its `about` line
    std::filesystem::path file;
};

/// Everything in a model folder (models/rods/*.toml, models/forks/*.toml, …), by kind and name.
///
/// \throws InputError if the folder is not there or a file in it cannot be read.
std::vector<ModelEntry> list_models(const std::filesystem::path& folder);

}  // namespace evenspit
