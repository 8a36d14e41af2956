// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "geometry/mesh.h"

namespace evenspit {

/// One straight piece of a swept outline: between stations x0 ≤ x1 everything turning stays within the radius that runs in a line from
/// r0 to r1. x0 == x1 is an end face.
struct OutlinePiece {
    double x0 = 0, r0 = 0;  ///< m
    double x1 = 0, r1 = 0;  ///< m
    int part = -1;          ///< index into Outline::parts: what reaches out furthest here
};

/// The outline (radius along the rod) of the solid swept by things that turn about the X axis.
///
/// Pieces are in order of x and do not overlap; where nothing is, there is no piece. The outline holds all that turns and
/// touches it: between two genuine points of the swept solid, at most `step` apart, it runs straight, and since the distance
/// from the axis is convex along a triangle it never lies below. The true solid differs from it only inside dents narrower
/// than `step`.
struct Outline {
    std::vector<OutlinePiece> pieces;
    std::vector<std::string> parts;

    [[nodiscard]] bool empty() const { return pieces.empty(); }
    /// Greatest radius at a station, 0 where nothing is.
    [[nodiscard]] double radius_at(double x) const;
};

/// A mesh on the rod: rod frame, X along the rod.
struct SweptMesh {
    const TriangleMesh* mesh = nullptr;  ///< not owned, not null
    Pose pose = Pose::Identity();        ///< mesh frame → rod frame
    std::string part;
};

/// A ring-shaped thing on the rod: all between two stations and inside a radius.
struct SweptCylinder {
    double x0 = 0, x1 = 0;  ///< m, x0 ≤ x1
    double radius = 0;      ///< m
    std::string part;
};

/// The outline of all of them together.
///
/// Every triangle is clipped to each slab of width `step` that it reaches, and the slab's outline is the least concave curve over the
/// clipped corners: exact for slivers between stations, and no triangle is sampled. Bodies' first and last x are kept exactly.
///
/// \param step slab width, m, > 0
Outline sweep(const std::vector<SweptMesh>& meshes, const std::vector<SweptCylinder>& cylinders, double step = 1e-3);

}  // namespace evenspit
