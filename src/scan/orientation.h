// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <vector>

#include "geometry/types.h"

namespace evenspit::scan {

/// Carries the side on which a surface is known to look on to where it is not: along the tree that spans
/// neighbours with least turning between them (H. Hoppe, T. DeRose, T. Duchamp, J. McDonald, W. Stuetzle,
/// SIGGRAPH 1992, 71–78), by CGAL.
///
/// \param normals unit, of any sign where not sure
/// \param sure by place: its normal looks the right way, and is left as it is
/// \param neighbours how many nearest places count as neighbours
/// \return by place: whether its normal is to be turned over; what no sure place reaches is left as it is
std::vector<bool> turned_by_neighbours(const std::vector<Vec3>& positions, const std::vector<Vec3>& normals,
                                       const std::vector<bool>& sure, std::size_t neighbours);

}  // namespace evenspit::scan
