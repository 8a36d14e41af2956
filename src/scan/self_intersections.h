// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "geometry/mesh.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// Triangles that meet another one elsewhere than in a corner or an edge that they share, by CGAL's exact
/// predicates; ascending, each once. Two with a common edge are never told, nor are those without area.
///
/// \pre indices are in range, coordinates finite
std::vector<std::int32_t> self_intersections(const TriangleMesh& mesh, const StopControl& control = {});

}  // namespace evenspit::scan
