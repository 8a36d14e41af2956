// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace evenspit {

/// One file of the model library.
struct ModelEntry {
    std::string kind;     ///< "rod", "fork", "motor", "cooker", "material"; the folder's name in the plural
    std::string name;     ///< file name without ".toml"
    std::string summary;  ///< its `about` line
    std::filesystem::path file;
};

/// How one gets at the models again, where their folder is not.
inline constexpr std::string_view models_mend =
    "set EVENSPIT_MODELS to that folder, or install evenspit again";

/// \throws InputError if there is no such folder
void require_models(const std::filesystem::path& folder);

/// Everything in a model folder (models/rods/*.toml, models/forks/*.toml, …), by kind and name.
///
/// \throws InputError if the folder is not there or a file in it cannot be read.
std::vector<ModelEntry> list_models(const std::filesystem::path& folder);

/// The file of a model; an empty path if there is none of that name.
///
/// Names are compared without regard to case, with spaces and underscores as hyphens: "Stainless steel" is
/// stainless-steel.toml. Only files that lie in the folder are found: a name with path signs in it leads
/// nowhere.
std::filesystem::path find_model(const std::filesystem::path& folder, std::string_view kind,
                                 std::string_view name);

/// The names of all models of a kind, sorted; empty if there are none.
std::vector<std::string> model_names(const std::filesystem::path& folder, std::string_view kind);

}  // namespace evenspit
