// SPDX-License-Identifier: MIT
#include "load/load_change.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <string_view>

#include <fmt/format.h>

#include "files/whole_file.h"
#include "load/item_reader.h"
#include "load/key_words.h"
#include "load/load_edit.h"
#include "load/load_text.h"
#include "load/models.h"
#include "load/rig_reader.h"
#include "load/shape_reader.h"
#include "load/thing.h"
#include "load/toml_tree.h"
#include "units/error.h"
#include "units/toml_string.h"

namespace evenspit {
namespace {

/// What a TOML string says, as it stands in a file.
std::string text_of(const std::string& value, const std::string& file) {
    return parse_toml("value = " + value, file).find("value")->text;
}

void tie(LoadText& load, std::size_t item, const std::string& file) {
    const std::string index = std::to_string(item + 1);
    const bool by_word = load.has({"item", index, "trussing"});
    if (by_word) {
        const auto shape = load.find({"item", index, "shape"});
        const auto ways = trussing_words_of(shape ? known_shape(text_of(*shape, file)) : std::string());
        load.set({"item", index, "trussing"}, toml_string(ways.empty() ? "tight" : ways.front().first));
    }
    if (!by_word || load.has({"item", index, "trussed"})) load.set({"item", index, "trussed"}, "true");
}

/// What the load file says of the rod itself gives way to what the model says; what it says of its use stays.
void take_rod(LoadText& load, const std::string& name, const std::filesystem::path& models) {
    const std::filesystem::path file = find_model(models, "rod", name);
    const LoadText model(read_whole_file(file), file.string());
    for (const char* const key : {"section", "width", "length", "supports", "usable", "material",
                                  "youngs_modulus", "yield_strength", "density"}) {
        const auto value = model.find({key});
        if (load.has({"rod", key}) && value) load.set({"rod", key}, *value);
    }
    load.set({"rod", "model"}, toml_string(name));
}

/// What results call the items of a file's text.
std::vector<std::string> item_names_in(const std::string& text, const std::string& file) {
    const TomlNode root = parse_toml(text, file);
    Complaints not_told;
    TableReader reader(root, key_table(""), "", not_told);
    return item_names(reader.tables("item"));
}

/// Takes items out; the others are called as before.
///
/// \param items from the last to the first
void leave_out(LoadText& load, const std::vector<std::size_t>& items, const std::string& file) {
    if (items.empty()) return;
    std::vector<std::string> names = item_names_in(load.text(), file);
    for (const std::size_t item : items) {
        load.take_out("item", item + 1);
        names.erase(names.begin() + static_cast<std::ptrdiff_t>(item));
    }
    // A name that is written takes one away from those that are counted.
    for (std::size_t written = 0; written < names.size(); ++written) {
        const std::vector<std::string> now = item_names_in(load.text(), file);
        const auto [name, other] = std::mismatch(names.begin(), names.end(), now.begin());
        if (name == names.end()) return;
        load.set({"item", std::to_string(name - names.begin() + 1), "name"}, toml_string(*name));
    }
}

}  // namespace

std::string changed_load(const std::string& text, const std::string& file,
                         const std::vector<LoadChange>& changes, const std::filesystem::path& models) {
    LoadText load(text, file);
    std::vector<std::size_t> items, forks;
    for (const LoadChange& change : changes) {
        switch (change.kind) {
            case LoadChange::Kind::tie:
                tie(load, change.item, file);
                break;
            case LoadChange::Kind::rod:
                take_rod(load, change.rod, models);
                break;
            case LoadChange::Kind::leave_out:
                items.push_back(change.item);
                forks.insert(forks.end(), change.forks.begin(), change.forks.end());
                break;
        }
    }
    // From the last on, so that the others keep their numbers.
    std::sort(items.begin(), items.end(), std::greater<>());
    std::sort(forks.begin(), forks.end(), std::greater<>());
    leave_out(load, items, file);
    // Brackets are counted after all forks, baskets after these.
    const std::size_t tined = load.count({"fork"}), legged = load.count({"bracket"});
    for (const std::size_t fork : forks) {
        if (fork < tined) {
            load.take_out("fork", fork + 1);
        } else if (fork < tined + legged) {
            load.take_out("bracket", fork - tined + 1);
        } else {
            load.take_out("basket", fork - tined - legged + 1);
        }
    }
    return load.text();
}

std::string heavier_load(const std::string& text, const Assembly& assembly, double factor) {
    LoadText load(text, assembly.file);
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const body::Body& body = assembly.items[i].body->body;
        double contents_kg = 0;
        for (const body::Part& part : body.parts) {
            if (part.kind == body::PartKind::stuffing)
                contents_kg += part.density_kg_m3 * volume_moments(part.mesh).amount;
        }
        const double mass_kg = assembly.items[i].body->mass.amount - contents_kg;
        const std::string item = std::to_string(i + 1);
        load.set({"item", item, "mass"}, fmt::format("\"{:.9g} kg\"", factor * mass_kg));
        for (const TapeKey& measure : tape_keys) {
            const KeyPath path{"item", item, "tape", std::string(measure.key)};
            const auto given = load.find(path);
            if (!given) continue;
            const double length_m = parse_quantity(text_of(*given, assembly.file), Dimension::length);
            load.set(path, toml_string(exact_quantity(std::cbrt(factor) * length_m, Dimension::length)));
        }
        if (!load.has({"item", item, "scan"})) continue;
        const std::string scale = load.find({"item", item, "scale"}).value_or("1");
        load.set({"item", item, "scale"}, fmt::format("{:.9g}", std::cbrt(factor) * std::stod(scale)));
    }
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        if (!(assembly.forks[f].cage.contents_kg > 0)) continue;
        const std::string number = std::to_string(fork_section(assembly.forks, f).number);
        load.set({"basket", number, "contents"},
                 fmt::format("\"{:.9g} kg\"", factor * assembly.forks[f].cage.contents_kg));
    }
    return load.text();
}

std::vector<RodModel> rod_models(const std::filesystem::path& models, double temperature_k) {
    std::vector<RodModel> rods;
    for (const std::string& name : model_names(models, "rod")) {
        try {
            Reading reading;
            reading.models = models;
            const TomlNode root = parse_toml(fmt::format("[rod]\nmodel = {}\n", toml_string(name)), name);
            TableReader reader(root, key_table(""), "", reading.complaints);
            auto table = reader.table("rod");
            Rod rod = read_rod(*table, temperature_k, reading);
            if (reading.complaints.count() == 0) rods.push_back({name, std::move(rod)});
        } catch (const InputError&) {
            continue;
        }
    }
    return rods;
}

}  // namespace evenspit
