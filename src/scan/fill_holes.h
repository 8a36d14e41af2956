// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "geometry/mesh.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// A mesh whose holes were closed.
struct FilledMesh {
    TriangleMesh mesh;             ///< closed, outward, one piece, nothing cuts itself
    std::vector<bool> at_filling;  ///< per vertex: within what was filled, or on its rim
    int holes = 0;
    double filled_share = 0;  ///< of the surface
};

/// Mends a mesh as files hold them and closes its holes: corners in one place become one, triangles that are
/// twice there or have no area go, all are turned one way, rims that lie on each other are sewn; then each
/// hole gets a net of triangles as fine as those round it, as smooth as the surface there lets it be (P.
/// Liepa, Proc. SGP 2003, 200–205; M. Botsch, L. Kobbelt, ACM Trans. Graph. 23(3):630–634, 2004). All by
/// CGAL.
///
/// \return absent where the mesh is in pieces, or has a rim that is too long to be a hole's, or cuts itself,
/// or cannot be closed so
std::optional<FilledMesh> fill_holes(const TriangleMesh& mesh, const StopControl& control = {});

}  // namespace evenspit::scan
