// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "geometry/mesh.h"

namespace evenspit::scan {

/// A vertex with less support is not backed by points.
inline constexpr double unseen_support = 0.15;

/// Whether no corner of a triangle was seen. \param support per vertex 0 (nothing was seen there) … 1
bool is_unseen(const Triangle& t, const std::vector<double>& support);

/// m2
double area_of(const TriangleMesh& mesh, const Triangle& t);
double surface_area(const TriangleMesh& mesh);

}  // namespace evenspit::scan
