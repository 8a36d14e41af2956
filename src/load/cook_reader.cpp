// SPDX-License-Identifier: MIT
#include "load/cook_reader.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "load/cook_places.h"
#include "load/fire_reader.h"
#include "units/listed.h"
#include "units/unit_table.h"

namespace evenspit {

namespace {

using unit_factors::celsius_zero_k;

// Seconds after midnight of "18:30"; nothing if it is no time of the day.
std::optional<double> clock_time_s(const std::string& text) {
    const auto digit = [&text](std::size_t i) { return i < text.size() && text[i] >= '0' && text[i] <= '9'; };
    const std::size_t colon = text.find(':');
    const bool shaped = (colon == 1 || colon == 2) && text.size() == colon + 3 && digit(0) &&
                        digit(colon - 1) && digit(colon + 1) && digit(colon + 2);
    if (!shaped) return std::nullopt;
    const int hours = std::stoi(text.substr(0, colon));
    const int minutes = std::stoi(text.substr(colon + 1));
    if (hours > 23 || minutes > 59) return std::nullopt;
    return 3600.0 * hours + 60.0 * minutes;
}

/// What no cook has is a slip of the pen, or a unit mistaken for another.
struct Likely {
    double least = 0, most = 0;
    const char* of = "";   // before the two
    const char* why = "";  // after them
};
// What cookers hold, and refrigerators and freezers; flesh gets no hotter than its water boils; two days.
// Common practice.
constexpr Likely cookers{celsius_zero_k + 30, celsius_zero_k + 600, "a cooker "};
constexpr Likely starts{celsius_zero_k - 60, celsius_zero_k + 60, "meat "};
constexpr Likely pulls{celsius_zero_k + 20, celsius_zero_k + 100, "", ": its water boils"};
constexpr double shortest_s = 60, longest_s = 48 * 3600;

/// In both scales: a slip between them is what most of these are.
std::string temperature_text(double kelvin) {
    const double celsius = kelvin - celsius_zero_k;
    return fmt::format("{:.0f} °C ({:.0f} °F)", celsius, kelvin * 1.8 - unit_factors::fahrenheit_zero_shift);
}

void refuse(TableReader& given, const std::string& key, std::string expected) {
    given.complain(key, given.find(key)->shown(), std::move(expected),
                   "see whether the number and its unit are meant");
}

void refuse_unlikely(TableReader& given, const std::string& key, const std::optional<double>& value,
                     const Likely& likely) {
    if (!value || (*value >= likely.least && *value <= likely.most)) return;
    refuse(given, key,
           fmt::format("{}between {} and {}{}", likely.of, temperature_text(likely.least),
                       temperature_text(likely.most), likely.why));
}

}  // namespace

Cook read_cook(TableReader& given) {
    Cook cook;
    cook.cooker_temperature_k = given.quantity("cooker_temperature");
    refuse_unlikely(given, "cooker_temperature", cook.cooker_temperature_k, cookers);
    cook.start_temperature_k = given.quantity("start_temperature");
    refuse_unlikely(given, "start_temperature", cook.start_temperature_k, starts);
    if (auto pull = given.table("pull")) {
        for (const TomlEntry& entry : pull->node().entries) {
            const std::optional<double> kelvin = pull->quantity(entry.key);
            refuse_unlikely(*pull, entry.key, kelvin, pulls);
            if (kelvin) cook.pull_k[entry.key] = *kelvin;
        }
    }
    if (given.has("serve")) {
        const TomlNode& value = *given.find("serve");
        cook.serve_s = value.kind == TomlNode::Kind::text ? clock_time_s(value.text) : std::nullopt;
        if (!cook.serve_s)
            given.complain("serve", value.shown(), "a time of the day, in quotes",
                           R"(write serve = "18:30")");
    }
    cook.convection_coefficient_w_m2_k = given.quantity("convection_coefficient");
    cook.radiation = given.flag_or_usual("radiation");
    cook.duration_s = given.quantity("duration");
    if (cook.duration_s && (*cook.duration_s < shortest_s || *cook.duration_s > longest_s))
        refuse(given, "duration", "between a minute and 48 h");
    cook.fire = read_fire(given, cook.cooker_temperature_k);
    given.refuse_unknown();
    return cook;
}

void refuse_unknown_places(TableReader& given, const Cook& cook, const std::vector<Item>& items,
                           Reading& reading) {
    std::vector<std::string> there, words;
    for (const Item& item : items) {
        if (item.body == nullptr) return;  // complained of already
        for (const PlaceKind place : places_of(item)) there.emplace_back(place_name(place));
        for (const Probe& probe : item.probes) there.push_back(probe.name);
    }
    if (there.empty()) return;  // no item is there
    for (const PlaceKind place :
         {PlaceKind::breast, PlaceKind::thigh, PlaceKind::wing, PlaceKind::core, PlaceKind::stuffing})
        words.emplace_back(place_name(place));
    const auto has = [](const std::vector<std::string>& names, const std::string& name) {
        return std::find(names.begin(), names.end(), name) != names.end();
    };
    std::optional<TableReader> pull = given.table("pull");
    for (const auto& [name, kelvin] : cook.pull_k) {
        if (has(there, name)) continue;
        if (has(words, name)) {
            reading.remarks.push_back("No item has a " + name +
                                      " that is known, so its pull temperature in [cook] waits for nothing.");
            continue;
        }
        pull->complain(name, "a place that no item has", "one of " + listed(words, "or"),
                       "name one of these, or add [[item.probe]] with that name");
    }
}

}  // namespace evenspit
