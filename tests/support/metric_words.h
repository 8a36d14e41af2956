// SPDX-License-Identifier: MIT
// Finds metric units in what was meant for a reader of US units.
#pragma once

#include <regex>
#include <string>

namespace evenspit::test {

/// The first figure in a metric unit, with what stands around it; "" if there is none. Words of a source that
/// quote both systems do not count.
inline std::string metric_figure(std::string text) {
    const std::string quoted = "165 °F (74 °C, USDA)";  // as USDA has it
    for (std::size_t at = text.find(quoted); at != std::string::npos; at = text.find(quoted))
        text.erase(at, quoted.size());
    static const std::regex figure(
        "[0-9]\\s*((mm|cm|m)[23]?|(mm|cm|m)[²³]|mg|g|kg|N|kN|Pa|kPa|MPa|GPa|°C|K|l|ml|J|kJ|W|kW)"
        "([^A-Za-z0-9_]|$)");
    std::smatch found;
    if (!std::regex_search(text, found, figure)) return "";
    constexpr std::size_t around = 40;
    const auto at = static_cast<std::size_t>(found.position(0));
    const std::size_t from = at > around ? at - around : 0;
    return text.substr(from, at - from + static_cast<std::size_t>(found.length(0)) + around);
}

}  // namespace evenspit::test
