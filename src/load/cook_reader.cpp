// SPDX-License-Identifier: MIT
#include "load/cook_reader.h"

#include "load/fire_reader.h"

namespace evenspit {

namespace {

using enum Dimension;

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

}  // namespace

Cook read_cook(TableReader& given) {
    Cook cook;
    cook.cooker_temperature_k = given.quantity("cooker_temperature", temperature);
    cook.start_temperature_k = given.quantity("start_temperature", temperature);
    if (auto pull = given.table("pull")) {
        for (const TomlEntry& entry : pull->node().entries) {
            if (const auto kelvin = pull->quantity(entry.key, temperature)) cook.pull_k[entry.key] = *kelvin;
        }
    }
    if (given.has("serve")) {
        const TomlNode& value = *given.find("serve");
        cook.serve_s = value.kind == TomlNode::Kind::text ? clock_time_s(value.text) : std::nullopt;
        if (!cook.serve_s)
            given.complain("serve", value.shown(), "a time of the day, in quotes",
                           R"(write serve = "18:30")");
    }
    cook.convection_coefficient_w_m2_k =
        given.quantity("convection_coefficient", heat_transfer_coefficient, Range::positive);
    cook.radiation = given.flag("radiation").value_or(true);
    cook.duration_s = given.quantity("duration", Dimension::time, Range::positive);
    cook.fire = read_fire(given, cook.cooker_temperature_k);
    given.refuse_unknown();
    return cook;
}

}  // namespace evenspit
