// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "geometry/mesh.h"

namespace evenspit::body {

/// What a cavity's wall encloses: its largest piece, turned over, each opening closed by a cone to the middle
/// of its rim, and 1 µm larger all round, so that no gap is left between it and the flesh.
///
/// \param skin closed, outward, m \param wall per triangle, whether it is of the wall
/// \return closed, outward, m; nothing if there is no wall, or what it encloses is no solid
/// \pre wall has an entry for each triangle
std::optional<TriangleMesh> behind_wall(const TriangleMesh& skin, const std::vector<bool>& wall);

}  // namespace evenspit::body
