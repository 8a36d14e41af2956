// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "scan/points.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// A plane or a cylinder on which many points lie.
struct FoundShape {
    bool cylinder = false;
    Vec3 point = Vec3::Zero();       ///< on the plane, or on the axis
    Vec3 direction = Vec3::UnitZ();  ///< unit: the plane's normal, or along the axis; sign arbitrary
    double radius = 0;               ///< of a cylinder
    std::vector<std::int32_t> points;
};

struct ShapeSearch {
    double reach = 0;        ///< how far points may lie off a shape, > 0
    double apart = 0;        ///< points of one shape are no further from the next than this, > 0
    std::size_t fewest = 0;  ///< points that make a shape
    bool round = true;  ///< cylinders and balls too; without them nothing round takes what is nearly flat
};

/// Looks for planes, and for cylinders and balls, so that none of them passes for a cylinder: the efficient
/// RANSAC of R. Schnabel, R. Wahl, R. Klein, Comput. Graph. Forum 26(2):214–226, 2007, by CGAL. The same
/// points give the same shapes.
///
/// \param points with normals, of any sign \throws what the control does
std::vector<FoundShape> find_shapes(const PointSet& points, const ShapeSearch& search,
                                    const StopControl& control = {});

}  // namespace evenspit::scan
