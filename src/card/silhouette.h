// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "geometry/mesh.h"

namespace evenspit::card {

/// Which way a load is looked at: from the front (along +Y, x to the right, z up), or from the rod's point
/// (along −X, y to the right, z up).
enum class LookedAt { from_front, from_point };

/// Where a place shows, m: to the right, and up.
Vec2 seen(const Vec3& place, LookedAt from);

/// Closed lines round what meshes cover when they are looked at, with those round holes in it; m.
///
/// Found on a grid of cells, so that any mesh will do, closed or not: true to about a cell. Specks and holes
/// of a few cells are left out.
///
/// \param cell_m > 0
std::vector<std::vector<Vec2>> silhouette(const std::vector<TriangleMesh>& meshes, LookedAt from,
                                          double cell_m);

}  // namespace evenspit::card
