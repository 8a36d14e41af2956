// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <filesystem>
#include <string_view>
#include <vector>

namespace evenspit {

/// A key whose value names a file, or is a list of such names. A relative name starts from the folder of the
/// file that it stands in.
struct PathKey {
    std::string_view list;  ///< the list of tables that has the key
    std::string_view key;
};

inline constexpr PathKey item_scan{"item", "scan"};
inline constexpr PathKey surface_mesh{"cooker.surface", "file"};

/// Every key of a load file that names files. What reads one takes its name from here, and what moves a load
/// to another folder goes through all.
inline constexpr std::array path_keys{item_scan, surface_mesh};

/// A key whose value names a model, which is laid under the table or gives it a part.
struct ModelKey {
    std::string_view table, key, kind;
};

inline constexpr std::array<ModelKey, 7> model_keys{{{"rod", "model", "rod"},
                                                     {"rod", "material", "material"},
                                                     {"motor", "model", "motor"},
                                                     {"cooker", "model", "cooker"},
                                                     {"fork", "model", "fork"},
                                                     {"bracket", "model", "bracket"},
                                                     {"basket", "model", "basket"}}};

/// The files that reading a load opens: itself, the models, scans and meshes that it names, and what those
/// models name. Only the text files among them are opened here. What cannot be read is passed over; reading
/// the load tells it.
std::vector<std::filesystem::path> files_of_load(const std::filesystem::path& load,
                                                 const std::filesystem::path& models);

}  // namespace evenspit
