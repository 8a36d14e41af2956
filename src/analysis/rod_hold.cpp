// SPDX-License-Identifier: MIT
#include "analysis/rod_hold.h"

#include <cmath>
#include <numbers>

namespace evenspit {

double rod_hold_m2(Section section, double width_m) {
    const int sides = flats_of(section);
    if (sides == 0) return 0;
    const double side_m = width_m * std::tan(std::numbers::pi / sides);
    return sides * side_m * side_m / 16;
}

}  // namespace evenspit
