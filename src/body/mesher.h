// SPDX-License-Identifier: MIT
#pragma once

#include <functional>

#include "geometry/mesh.h"
#include "geometry/types.h"

namespace evenspit::body {

/// A solid as a function of place: negative inside, positive outside, continuous.
using Field = std::function<double(const Vec3&)>;

/// How a field is meshed.
struct MesherOptions {
    Box3 box;            ///< holds the whole surface, m
    double spacing = 0;  ///< edge of the lattice's cubes, m, > 0; triangles' edges come to about half of it
    double steepest =
        4;  ///< |field| is at most this times the distance to the surface; what must be far is skipped
    bool is_even = false;  ///< mirrored in y = 0 the field is the same to the last bit: half of it is enough
};

/// The surface field = 0 as a closed mesh, outward.
///
/// Marching tetrahedra on a body-centred cubic lattice that is a mirror image of itself across y = 0, so that
/// a field that is even in y gives a mesh that is. Lattice points too near the surface are first pushed away
/// from it, so that no tetrahedron is cut close to a corner: no needles. Each cut stays inside its
/// tetrahedron and neighbours share their cuts, so the mesh is closed, oriented, free of self-intersections
/// and has two triangles at every edge whatever the field does. Deterministic.
///
/// Details thinner than the spacing may be lost. A field without a zero in the box gives an empty mesh.
///
/// \throws std::invalid_argument for an empty box, a spacing not positive, or a lattice of more than 30
/// million points;
///         std::runtime_error if the field is negative at the lattice's border
TriangleMesh mesh_field(const Field& field, const MesherOptions& options);

}  // namespace evenspit::body
