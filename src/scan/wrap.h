// SPDX-License-Identifier: MIT
#pragma once

#include "geometry/mesh.h"
#include "scan/grid_field.h"
#include "scan/sheet.h"

namespace evenspit::scan {

/// A field that is about 1 inside the sheet and 0 outside, and the level at which its contour runs through
/// the sheet.
struct Indicator {
    GridField field;
    double level = 0.5;
    int iterations = 0;   ///< of the solver
    double residual = 0;  ///< left, relative
};

/// Screened Poisson reconstruction on a regular grid: the field whose gradient is nearest to the sheet's
/// normals, held at one half on the discs (M. Kazhdan, H. Hoppe, ACM Trans. Graph. 32(3):29, 2013). Small
/// holes close by themselves, as a membrane.
///
/// Solved by conjugate gradients with a multigrid cycle as preconditioner.
///
/// \param spacing side of the grid, m: about that of the sheet
Indicator indicate(const Sheet& sheet, double spacing, const StopControl& control = {});

/// The contour of the indicator as a mesh: closed, outward, free of self-intersections; only its largest
/// piece, with inner bubbles left out.
///
/// \param dropped number of pieces and bubbles left out
TriangleMesh contour(const Indicator& indicator, int& dropped, const StopControl& control = {});

}  // namespace evenspit::scan
