// SPDX-License-Identifier: MIT
#include "load/path_keys.h"

#include <algorithm>
#include <string>

#include <fmt/format.h>

#include "load/models.h"
#include "load/toml_tree.h"

namespace evenspit {
namespace {

class FileFinder {
  public:
    explicit FileFinder(const std::filesystem::path& models) : models_(models) {}

    // A file whose top level is the table of that path, "" for a load file.
    void open(const std::filesystem::path& file, const std::string& table) {
        if (std::find(files_.begin(), files_.end(), file) != files_.end()) return;
        files_.push_back(file);
        try {
            look(read_toml(file), table);
        } catch (const InputError&) {
            return;
        }
    }

    [[nodiscard]] std::vector<std::filesystem::path> take() { return std::move(files_); }

  private:
    void look(const TomlNode& node, const std::string& path) {
        for (const TomlNode& element : node.elements) look(element, path);
        for (const TomlEntry& entry : node.entries) {
            for (const PathKey& key : path_keys) {
                if (key.list == path && key.key == entry.key) add(entry.value);
            }
            for (const ModelKey& key : model_keys) {
                if (key.table != path || key.key != entry.key) continue;
                const std::filesystem::path model = find_model(models_, key.kind, entry.value.text);
                if (!model.empty()) open(model, path);
            }
            look(entry.value, path.empty() ? entry.key : fmt::format("{}.{}", path, entry.key));
        }
    }

    void add(const TomlNode& named) {
        for (const TomlNode& element : named.elements) add(element);
        if (named.kind == TomlNode::Kind::text)
            files_.push_back(std::filesystem::path(named.spot.file).parent_path() / named.text);
    }

    const std::filesystem::path& models_;
    std::vector<std::filesystem::path> files_;
};

}  // namespace

std::vector<std::filesystem::path> files_of_load(const std::filesystem::path& load,
                                                 const std::filesystem::path& models) {
    FileFinder finder(models);
    finder.open(load, "");
    return finder.take();
}

}  // namespace evenspit
