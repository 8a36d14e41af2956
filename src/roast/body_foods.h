// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "body/body.h"
#include "roast/food_properties.h"
#include "roast/heat_grid.h"

namespace evenspit {

/// Whether rules and tables of birds count for a meat: what is not known counts as a bird's.
inline bool counts_as_poultry(body::Meat meat) {
    return meat == body::Meat::poultry || meat == body::Meat::unknown;
}

/// What a tissue of a body is made of. Lean and skin of birds by species and region, as their shapes are; of
/// other meat the whole trimmed piece by its kind (USDA SR26); meat of no known kind counts as turkey.
body::Composition food_of(const body::Body& body, TissueKind kind, int region);

/// How much room skin with its fat takes up in each region, m3; 0 where the parts are not known.
std::vector<double> skin_volumes_m3(const body::Body& body);

/// A table for each tissue of a grid, at the density it has in the body. Stuffing holds as much air as its
/// density tells.
std::vector<ThermalTable> thermal_tables(const body::Body& body, const HeatGrid& grid);

}  // namespace evenspit
