// SPDX-License-Identifier: MIT
#pragma once

#include "geometry/mesh.h"

namespace evenspit::test {

/// Whether any two triangles of a mesh meet other than along what they share (CGAL, exact predicates).
bool self_intersects(const TriangleMesh& mesh);

}  // namespace evenspit::test
