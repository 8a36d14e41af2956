// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <variant>
#include <vector>

#include "geometry/mesh.h"

namespace evenspit {

/// All behind a plane is solid; the free side is where `normal` points.
struct PlaneShape {
    Vec3 point = Vec3::Zero();    ///< m
    Vec3 normal = Vec3::UnitZ();  ///< unit length
};

/// A solid box with sides along the world axes.
struct BoxShape {
    Vec3 min = Vec3::Zero();  ///< m
    Vec3 max = Vec3::Zero();  ///< m
};

/// A thin wall: a line of (radius, height) points turned about the vertical through `centre`.
struct RevolvedShape {
    Vec3 centre = Vec3::Zero();  ///< m; heights count from it
    std::vector<Vec2> profile;   ///< (radius ≥ 0, height), m; at least two points
};

/// A thin wall given by triangles (not necessarily closed), world frame.
struct MeshShape {
    std::shared_ptr<const TriangleMesh> mesh;  ///< not null
};

using SurfaceShape = std::variant<PlaneShape, BoxShape, RevolvedShape, MeshShape>;

}  // namespace evenspit
