// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "body/body.h"
#include "roast/heat_grid.h"

namespace evenspit {

/// Names the tissue of each cell of a grid that carries a temperature; see heat_grid().
///
/// \param facing by triangle the enclosure it faces, −1 for the outside
void name_tissues(const body::PreparedBody& body, const std::vector<SurfacePiece>& pieces,
                  const std::vector<std::int32_t>& facing, HeatGrid& grid);

}  // namespace evenspit
