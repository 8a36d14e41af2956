// SPDX-License-Identifier: MIT
#include "app/viewer/dial_scale.h"

#include <cmath>

namespace evenspit::viewer {

double rim_of(double value, double unit) {
    const double units = std::abs(value) / unit;
    if (!(units > 0) || !std::isfinite(units)) return unit;
    const double ten = std::pow(10, std::floor(std::log10(units)));
    // A value that is round itself stays on the rim, whatever its last bit.
    constexpr double rounding = 1 - 1e-12;
    for (const double step : {1.0, 2.0, 5.0}) {
        if (units * rounding <= step * ten) return step * ten * unit;
    }
    return 10 * ten * unit;
}

}  // namespace evenspit::viewer
