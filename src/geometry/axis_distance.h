// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "geometry/surface.h"

namespace evenspit {

/// How near a surface comes to the X axis in the plane across it, at each of evenly spaced stations:
/// (station, distance), m; stations that it does not reach have no point.
///
/// For a chart: a revolved wall is looked at in 24 places of each stretch of its profile. nearest_gap() tells
/// what clears.
///
/// \param step_m between stations, at most
std::vector<Vec2> axis_distance(const SurfaceShape& shape, double from_m, double to_m, double step_m);

}  // namespace evenspit
