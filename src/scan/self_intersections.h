// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "geometry/mesh.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// Triangles that an edge of another one pierces, and those whose edges pierce; ascending, each once. What
/// only touches within rounding counts as pierced; neighbours may touch along what they share.
///
/// \pre indices are in range, coordinates finite
std::vector<std::int32_t> self_intersections(const TriangleMesh& mesh, const StopControl& control = {});

}  // namespace evenspit::scan
