// SPDX-License-Identifier: MIT
#include "load/models.h"

#include <algorithm>
#include <array>
#include <system_error>

#include <fmt/format.h>

#include "load/table_reader.h"
#include "load/toml_tree.h"
#include "units/nearest.h"

namespace evenspit {

namespace {

constexpr std::array<std::string_view, 7> kinds = {"rod",   "fork",   "bracket", "basket",
                                                   "motor", "cooker", "material"};

std::filesystem::path folder_of(const std::filesystem::path& folder, std::string_view kind) {
    return folder / fmt::format("{}s", kind);
}

}  // namespace

std::vector<std::string> model_names(const std::filesystem::path& folder, std::string_view kind) {
    std::vector<std::string> names;
    std::error_code error;
    for (const auto& entry : std::filesystem::directory_iterator(folder_of(folder, kind), error)) {
        if (entry.path().extension() == ".toml") names.push_back(entry.path().stem().string());
    }
    std::sort(names.begin(), names.end());
    return names;
}

std::filesystem::path find_model(const std::filesystem::path& folder, std::string_view kind,
                                 std::string_view name) {
    for (const std::string& known : model_names(folder, kind)) {
        if (same_name(known, name)) return folder_of(folder, kind) / (known + ".toml");
    }
    return {};
}

void require_models(const std::filesystem::path& folder) {
    std::error_code error;
    if (std::filesystem::is_directory(folder, error)) return;
    Complaints complaints;
    complaints.add({folder.string(), 0, 0}, "", "no such folder",
                   "the folder of the models that came with the program", std::string(models_mend));
    complaints.throw_if_any("");
}

std::vector<ModelEntry> list_models(const std::filesystem::path& folder) {
    require_models(folder);
    Complaints complaints;
    std::vector<ModelEntry> entries;
    for (const std::string_view kind : kinds) {
        for (const std::string& name : model_names(folder, kind)) {
            const std::filesystem::path file = find_model(folder, kind, name);
            try {
                const TomlNode root = read_toml(file);
                const auto about = TableReader(root, key_table("model"), "", complaints).text("about");
                entries.push_back({std::string(kind), name, about.value_or(""), file});
            } catch (const InputError& unreadable) {
                complaints.add(unreadable);
            }
        }
    }
    complaints.throw_if_any("");
    return entries;
}

}  // namespace evenspit
