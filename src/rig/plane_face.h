// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "rig/rig.h"

namespace evenspit {

/// How far a place lies on a plane's free side, m; negative behind it.
double before_plane_m(const PlaneShape& plane, const Vec3& place);

/// A square on a plane, round its place nearest to the middle.
std::vector<Vec3> square_on(const PlaneShape& plane, const Vec3& middle, double reach_m);

/// The part of a convex polygon on a plane's free side (Sutherland and Hodgman 1974).
std::vector<Vec3> part_before(const std::vector<Vec3>& polygon, const PlaneShape& plane);

/// What of a plane of the cooker is left between its other planes, as far as `reach_m` from its place nearest
/// to the middle: a wall ends where the next one begins. Planes that turn their back to the middle count for
/// nothing.
///
/// \param middle on the rod, over the fire \pre the surface is a plane
std::vector<Vec3> plane_face(const Cooker& cooker, std::size_t surface, const Vec3& middle, double reach_m);

}  // namespace evenspit
