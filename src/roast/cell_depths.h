// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "roast/heat_grid.h"

namespace evenspit {

/// How deep each cell's centre lies under the outside and the walls of hollows, m, through what the body is
/// made of; 0 for cells whose centre lies outside and for those without temperature.
///
/// |∇d| = 1, starting from the depths of SurfaceSpot, by fast sweeping: H. Zhao, Math. Comp. 74:603–627
/// (2005). First order: right to half a cell in the first centimetre or two, to one deep inside.
std::vector<float> cell_depths_m(const HeatGrid& grid);

}  // namespace evenspit
