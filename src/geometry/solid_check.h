// SPDX-License-Identifier: MIT
#pragma once

#include <stdexcept>
#include <string>

#include "geometry/mesh.h"

namespace evenspit {

/// What keeps a mesh from bounding a solid that has mass. Listed in the order in which the gates are passed.
enum class SolidFault {
    none,
    empty,            ///< no triangles
    not_finite,       ///< a coordinate is NaN or infinite
    bad_index,        ///< a triangle names a vertex that is not there
    orientation,      ///< two neighbours run along their common edge the same way
    zero_area,        ///< no triangle has any area
    boundary,         ///< edges with one triangle only: a hole
    non_manifold,     ///< edges with more than two triangles
    negative_volume,  ///< inside out
    zero_volume,      ///< flat: no volume to speak of
    inertia,          ///< a principal inertia is not positive, or A + B < C
};

/// Result of the gates: the first that failed, with the words to tell it.
struct SolidReport {
    SolidFault fault = SolidFault::none;
    std::string found;  ///< "23 boundary edges, the first at (0.012, 0.034, -0.002) m"
    std::string mend;   ///< "close the holes in a mesh tool", "turn all triangles over" …
    int boundary_edges = 0;
    int components = 0;  ///< edge-connected pieces

    [[nodiscard]] bool ok() const { return fault == SolidFault::none; }
};

/// Passes a mesh through the physical gates in a fixed order: finite, indices, orientation, areas, boundary
/// edges, signed volume, positive principal inertias that obey the triangle inequality A + B ≥ C.
///
/// Never takes the absolute value of a volume: an inside-out mesh is a fault. Degenerate triangles are let
/// through as long as the surface is closed. The mesh is not changed.
SolidReport check_solid(const TriangleMesh& mesh);

}  // namespace evenspit
