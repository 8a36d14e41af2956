// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "geometry/mesh.h"
#include "scan/sheet.h"

namespace evenspit::scan {

/// What settling did to a wrap.
struct Settled {
    double offset_before =
        0;  ///< mean height of the points over the wrap as it came, m: the bias that was taken away
    double offset_after = 0;      ///< the same at the end
    double scatter = 0;           ///< σ of the points about the settled surface, m
    std::vector<double> support;  ///< per vertex 0 (nothing was seen there) … 1
};

/// Moves a wrap onto the points: takes away the bias that smoothing and noise left in it.
///
/// Each vertex moves along its normal to the surface that the points show there (SurfaceFit). Where points
/// are few or to one side, neighbours decide; where there are none, the sheet's invented discs do.
///
/// \param points with normals, as make_sheet() gave them
/// \param sheet the sheet the wrap was made from
Settled settle(TriangleMesh& wrap, const PointSet& points, const Sheet& sheet, const ScanScale& scale,
               const StopControl& control = {});

/// Slides vertices along the surface toward the middle of their neighbours, so that triangles become even;
/// the surface stays.
void even_out(TriangleMesh& mesh, int rounds);

/// Mean of the adjoining triangles' normals, weighted by area; unit length.
std::vector<Vec3> vertex_normals(const TriangleMesh& mesh);

}  // namespace evenspit::scan
