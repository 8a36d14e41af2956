// SPDX-License-Identifier: MIT
#include "report/place_words.h"

#include <fmt/format.h>

#include "report/reader_units.h"

namespace evenspit {

std::string tape_text(double station_m, std::optional<double> mark_m, UnitSystem units) {
    const std::string from_mark = Stations(units, mark_m).from_mark(station_m);
    return Units(units).length(station_m) + " from the square end" +
           (from_mark.empty() ? "" : fmt::format(" ({})", from_mark));
}

}  // namespace evenspit
