// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>

namespace evenspit {

/// What burns under or beside the spit.
enum class FuelKind : std::size_t { lump_charcoal, briquettes, wood, gas };

/// Where a cook banks the coals. Front and back as seen with the motor on the left: back is +y.
enum class CoalPlace { as_drawn, under, back, front, both_sides };

/// What a cooker's walls are of.
enum class WallKind { ceramic, insulating_brick, steel, insulated_steel };

}  // namespace evenspit
