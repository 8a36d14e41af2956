// SPDX-License-Identifier: MIT
#pragma once

#include "geometry/mesh.h"
#include "scan/sheet.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// A sheet as a closed mesh, outward: screened Poisson reconstruction (M. Kazhdan, H. Hoppe, ACM Trans.
/// Graph. 32(3):29, 2013) by Open3D. Small holes close by themselves, as a membrane. Only the largest piece;
/// inner bubbles are left out.
///
/// Of some grids the contour has edges with more than two triangles; another size of the box is tried then,
/// and at last the sheets that touch there are parted (part_sheets()). Where the surface of an open sheet
/// runs out of the box, CGAL closes it (fill_holes()).
///
/// \param spacing side of the finest cells, m: about that of the sheet
/// \param dropped number of pieces and bubbles left out
/// \return empty if the sheet encloses nothing
/// \throws InputError if the scan library cannot be opened, std::runtime_error if it fails
TriangleMesh wrap(const Sheet& sheet, double spacing, int& dropped, const StopControl& control = {});

}  // namespace evenspit::scan
