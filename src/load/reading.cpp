// SPDX-License-Identifier: MIT
#include "load/reading.h"

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "load/models.h"
#include "units/metric.h"
#include "units/nearest.h"
#include "units/quote.h"

namespace evenspit {

namespace {

void take_off(TomlNode& table, std::string_view key) {
    std::erase_if(table.entries, [key](const TomlEntry& entry) { return entry.key == key; });
}

// Adds what a table lacks, down into the tables that both have.
void lay_under(TomlNode& table, TomlNode model) {
    for (TomlEntry& entry : model.entries) {
        const auto own = std::find_if(table.entries.begin(), table.entries.end(),
                                      [&entry](const TomlEntry& known) { return known.key == entry.key; });
        if (own == table.entries.end()) {
            table.entries.push_back(std::move(entry));
        } else if (own->value.kind == TomlNode::Kind::table && entry.value.kind == TomlNode::Kind::table) {
            lay_under(own->value, std::move(entry.value));
        }
    }
}

}  // namespace

std::optional<TomlNode> read_model(TableReader& user, std::string_view key, std::string_view kind,
                                   std::string_view name, Reading& reading) {
    const std::filesystem::path file = find_model(reading.models, kind, name);
    if (file.empty()) {
        std::error_code ignored;
        if (!std::filesystem::is_directory(reading.models, ignored)) {
            // Of one folder one complaint is enough.
            if (std::exchange(reading.models_missed, true)) return std::nullopt;
            user.complain(key,
                          fmt::format("{}, but there are no models at {}", in_quotes(name),
                                      in_quotes(reading.models.string())),
                          "the folder of the models that came with the program", std::string(models_mend));
            return std::nullopt;
        }
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
    lay_under(result.table, std::move(*model));
    return result;
}

void keep_on_rod(TableReader& given, std::string_view key, double station_m, const Reading& reading) {
    const std::optional<double> end_m = reading.rod_length_m;
    if (!end_m || (station_m >= 0 && station_m <= *end_m)) return;
    given.complain(
        key, metric(station_m, Dimension::length),
        fmt::format("a station on the rod, from 0 to its length, {}", metric(*end_m, Dimension::length)),
        "check the number and its unit");
}

double read_station(TableReader& given, std::string_view key, const Reading& reading) {
    const auto station_m = given.quantity(key);
    if (station_m) keep_on_rod(given, key, *station_m, reading);
    return station_m.value_or(0);
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
