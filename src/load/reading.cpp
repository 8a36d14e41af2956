// SPDX-License-Identifier: MIT
#include "load/reading.h"

#include <algorithm>

#include <fmt/format.h>

#include "load/models.h"
#include "units/nearest.h"
#include "units/quote.h"

namespace evenspit {

namespace {

void take_off(TomlNode& table, std::string_view key) {
    std::erase_if(table.entries, [key](const TomlEntry& entry) { return entry.key == key; });
}

}  // namespace

std::optional<TomlNode> read_model(TableReader& user, std::string_view key, std::string_view kind,
                                   std::string_view name, Reading& reading) {
    const std::filesystem::path file = find_model(reading.models, kind, name);
    if (file.empty()) {
        const std::vector<std::string> names = model_names(reading.models, kind);
        const auto near = nearest_word(name, names);
        user.complain(key, fmt::format("{}, which is no {} of the models", in_quotes(name), kind),
                      names.empty() ? fmt::format("a name from a folder '{}s' of the models", kind)
                                    : fmt::format("one of: {}", fmt::join(names, ", ")),
                      near ? fmt::format("did you mean \"{}\"?", *near) : "");
        return std::nullopt;
    }
    try {
        TomlNode model = read_toml(file);
        take_off(model, "about");
        take_off(model, "source");
        return model;
    } catch (const InputError& error) {
        reading.complaints.add(error);
        return std::nullopt;
    }
}

WithModel over_model(TableReader& given, std::string_view kind, const std::vector<Displaced>& displaced,
                     Reading& reading) {
    WithModel result;
    result.table = given.node();
    take_off(result.table, "model");
    if (!given.has("model")) return result;

    const auto name = given.text("model");
    auto model = name ? read_model(given, "model", kind, *name, reading) : std::nullopt;
    result.complete = model.has_value();
    if (!model) return result;

    result.model = *name;
    for (const Displaced& displacement : displaced) {
        if (result.table.find(displacement.by) == nullptr) continue;
        for (const std::string_view key : displacement.keys) take_off(*model, key);
    }
    for (TomlEntry& entry : model->entries) {
        if (result.table.find(entry.key) == nullptr) result.table.entries.push_back(std::move(entry));
    }
    return result;
}

std::filesystem::path named_file(TableReader& table, const PathKey& key, const std::string& name) {
    const std::filesystem::path beside = table.find(key.key)->spot.file;
    return beside.parent_path() / name;
}

void complain_at(TableReader& table, std::string_view key, const InputError& error) {
    for (const Complaint& complaint : error.complaints()) {
        std::string found = complaint.found;
        // Which file it is about, where that is another one.
        if (!complaint.spot.file.empty()) found = fmt::format("{}: {}", complaint.spot.file, found);
        table.complain(key, found, complaint.expected, complaint.mend);
    }
}

}  // namespace evenspit
