// SPDX-License-Identifier: MIT
#include "report/place_words.h"

#include <string>
#include <vector>

#include <fmt/format.h>

#include "analysis/place_findings.h"
#include "report/reader_units.h"
#include "units/listed.h"

namespace evenspit {

std::string tape_text(double station_m, std::optional<double> mark_m, UnitSystem units) {
    const std::string from_mark = Stations(units, mark_m).from_mark(station_m);
    return Units(units).length(station_m) + " from the square end" +
           (from_mark.empty() ? "" : fmt::format(" ({})", from_mark));
}

std::string looking_away_text(const Assembly& assembly, std::size_t item) {
    const std::vector<std::size_t> away = forks_looking_away(assembly, item);
    if (away.empty()) return "";
    if (away.size() == 1) {
        const bool point = assembly.forks[away.front()].points == Facing::point;
        return fmt::format("Fork {} looks away from it: turn it round, so that its tines look to the {}.",
                           away.front() + 1, point ? "drive" : "point");
    }
    std::vector<std::string> numbers;
    for (const std::size_t fork : away) numbers.push_back(std::to_string(fork + 1));
    return fmt::format("Forks {} look away from it: turn them round, so that their tines are in the meat.",
                       listed(numbers, "and"));
}

}  // namespace evenspit
