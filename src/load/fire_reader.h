// SPDX-License-Identifier: MIT
#pragma once

#include "load/assembly.h"
#include "load/reading.h"

namespace evenspit {

/// Reads the keys of [cook] that tell of its fire.
///
/// \param cooker_temperature_k the cook's, if it is given
CookFire read_fire(TableReader& cook, std::optional<double> cooker_temperature_k);

/// Complains about coals that are to lie where the cooker has no bed for them.
void refuse_coals_without_bed(TableReader& cook, const CookFire& fire, const Cooker& cooker);

/// Reads the keys of [cooker] that tell how it keeps its heat into a cooker; those that are not given leave
/// it as it is.
void read_cooker_heat(TableReader& given, Cooker& cooker);

}  // namespace evenspit
