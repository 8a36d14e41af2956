// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "geometry/surface.h"

namespace evenspit::viewer {

/// How near a surface comes to the rod's axis at each station: (station, distance), m; stations that it does
/// not reach have no point. For the eye: walls are looked at every few millimetres.
std::vector<Vec2> wall_distance(const SurfaceShape& shape, double from_m, double to_m, double step_m = 0.004);

}  // namespace evenspit::viewer
