// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "geometry/types.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// Points sorted into pieces that hang together.
struct Clusters {
    std::vector<std::int32_t> of;  ///< per point the number of its piece, 0 …
    std::vector<double>
        extents;  ///< per piece the number of cubes it fills: a measure of its area that density cannot sway

    /// Number of the piece with the greatest extent; −1 if there are no points.
    [[nodiscard]] std::int32_t largest() const;
};

/// Joins points whose cubes of side `cell` touch (also at a corner).
Clusters cluster(const std::vector<Vec3>& points, double cell, const StopControl& control = {});

}  // namespace evenspit::scan
