// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "geometry/mesh.h"

namespace evenspit {

class SweepTree;

/// One straight piece of a swept outline: between stations x0 ≤ x1 everything turning stays within the
/// radius that runs in a line from r0 to r1. x0 == x1 (then r0 == r1) is a disc of no thickness.
struct OutlinePiece {
    double x0 = 0, r0 = 0;  ///< m
    double x1 = 0, r1 = 0;  ///< m
    int part = -1;          ///< whose it is: what reaches out furthest here
};

/// The outline (radius along the rod) of the solid swept by things that turn about the X axis.
///
/// Pieces are in order of x and do not overlap. Where nothing is, there is no piece; where two pieces meet,
/// the radius may jump (an end face). The outline holds all that turns, to within rounding, and touches it:
/// between two genuine points of the swept solid, at most `step` apart, it runs straight, and since the
/// distance from the axis is convex along a triangle it never lies below. The true solid differs from it only
/// inside dents narrower than `step`.
struct Outline {
    std::vector<OutlinePiece> pieces;

    [[nodiscard]] bool empty() const { return pieces.empty(); }
    /// Greatest radius at a station (at a jump the greater), m; 0 where nothing is. O(log n).
    [[nodiscard]] double radius_at(double x) const;
};

/// A mesh on the rod: rod frame, X along the rod.
struct SweptMesh {
    const TriangleMesh* mesh = nullptr;  ///< not owned, not null
    Pose pose = Pose::Identity();        ///< mesh frame → rod frame
    int part = 0;                        ///< the caller's number for it; those of one number are one part
    double scale = 1;                    ///< mesh lengths × this are metres, before the pose; > 0
    const SweepTree* tree = nullptr;     ///< of the mesh, if there is one: quicker; not owned
    /// Its outline, if it is known: what mesh_outline() gives with the same step; not owned.
    const std::vector<OutlinePiece>* outline = nullptr;
};

/// A ring-shaped thing on the rod: all between two stations and inside a radius.
struct SweptCylinder {
    double x0 = 0, x1 = 0;  ///< m, x0 ≤ x1
    double radius = 0;      ///< m, ≥ 0
    int part = 0;           ///< the caller's number for it
};

/// The outline of all of them together.
///
/// Each mesh is cut into slabs of one width, at most `step`, that begin and end at its first and last
/// station. Its triangles are clipped to the slabs they reach, and a slab's outline is the least concave
/// curve over the clipped corners: no triangle is sampled, and a sliver between two stations counts in full.
/// Cylinders enter exactly. The outlines of the things are then joined by taking the greater radius, cut
/// where one overtakes another.
///
/// A mesh need not be closed; vertices that no triangle uses do not count. Where two things reach equally
/// far, the one named first has the piece. Nothing to sweep gives the empty outline.
///
/// \param step greatest slab width, m, ≥ 1e-9
/// \throws std::invalid_argument if the step is less than 1e-9 m or would need more than ten million slabs, a
/// mesh is
///         null or has a coordinate that is not finite, or a cylinder runs backwards, has a negative radius
///         or is not finite.
/// \pre triangles name vertices that exist
Outline sweep(const std::vector<SweptMesh>& meshes, const std::vector<SweptCylinder>& cylinders,
              double step = 1e-3);

/// The outline of one mesh alone, before it is joined with others.
///
/// \throws std::invalid_argument as sweep() does
std::vector<OutlinePiece> mesh_outline(const SweptMesh& mesh, double step);

}  // namespace evenspit
