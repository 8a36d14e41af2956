// SPDX-License-Identifier: MIT
#pragma once

#include "geometry/frustum.h"
#include "geometry/gap.h"
#include "geometry/surface.h"

namespace evenspit {

/// nearest_gap() for thin walls.
///
/// The distance from a frustum is convex, and so is, at the stations of a frustum, how far a point lies
/// outside its radius: the tangent plane at the middle of a patch of wall bounds both from below over the
/// whole patch. Patches and stretches of the load are cut in halves, the most promising pair first, until no
/// bound is lower than the best pair of points found.
///
/// \param tolerance_m a pair that promises no more than that is let go
/// \throws std::invalid_argument if the profile has fewer than two points, a negative radius or a number that
/// is not
///         finite; if the mesh is null or has no triangles.
Gap wall_gap(const FrustumTree& load, const RevolvedShape& wall, double tolerance_m = 1e-9);
Gap wall_gap(const FrustumTree& load, const MeshShape& wall, double tolerance_m = 1e-9);

}  // namespace evenspit
