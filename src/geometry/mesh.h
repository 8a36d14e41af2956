// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "geometry/types.h"

namespace evenspit {

using Triangle = std::array<std::int32_t, 3>;

/// A triangle mesh: corner positions in metres, triangles as indices counter-clockwise seen from outside.
///
/// Holds whatever a file held; check_solid() tells whether it bounds a solid.
struct TriangleMesh {
    std::vector<Vec3> vertices;
    std::vector<Triangle> triangles;

    [[nodiscard]] const Vec3& corner(const Triangle& triangle, int k) const {
        return vertices[static_cast<std::size_t>(triangle[static_cast<std::size_t>(k)])];
    }
};

/// The box round all vertices; empty for a mesh without vertices.
Box3 bounds(const TriangleMesh& mesh);

/// The mesh after a rigid move.
TriangleMesh transformed(const TriangleMesh& mesh, const Pose& pose);

/// The mesh with all coordinates multiplied by `factor` > 0.
TriangleMesh scaled(const TriangleMesh& mesh, double factor);

}  // namespace evenspit
