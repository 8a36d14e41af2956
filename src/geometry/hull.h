// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "geometry/types.h"

namespace evenspit {

/// Length of a taut tape round points in a plane: the perimeter of their convex hull; 0 for less than two.
/// Monotone chain: A. M. Andrew, Inf. Process. Lett. 9(5):216–219 (1979).
double hull_perimeter(std::vector<Vec2> points);

}  // namespace evenspit
