// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "geometry/mesh.h"

namespace evenspit::scan {

/// A closed surface whose sheets touch along edges and at corners, as the contour of a thin fin does, with
/// each sheet's own corners: places stay, and each edge then has two triangles. The two sides of a fin stay
/// whole, each on its side; where that parts nothing, as between two lumps that share an edge, the lumps are
/// parted.
///
/// \param mesh closed, triangles turned alike
/// \return nothing if some edge has not as many triangles one way as the other, if two that face alike lie on
/// each other, or if sheets cannot be parted so
std::optional<TriangleMesh> part_sheets(const TriangleMesh& mesh);

}  // namespace evenspit::scan
