// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "load/reading.h"
#include "rig/rig.h"

namespace evenspit {

/// A rod over coals whose temperature nothing tells. Common practice, no source: as hot as a covered cooker
/// gets, and hotter than most cooks.
inline constexpr double hot_rod_k = 260 + 273.15;
/// Steel shaft in a plain steel seat or bushing, dry to greasy. Common practice, no source.
inline constexpr double usual_support_friction = 0.15;

// Each reads one table of the load file, complains about what is wrong and remarks on what it assumes. What
// could not be read keeps its default: a reading with complaints is thrown away.

/// \param cooker_temperature_k what the rod's temperature defaults to; absent: hot_rod_k
Rod read_rod(TableReader& given, std::optional<double> cooker_temperature_k, Reading& reading);
Motor read_motor(TableReader& given, Reading& reading);
Fork read_fork(TableReader& given, Reading& reading);
/// A wire basket round the rod; see Cage.
Fork read_basket(TableReader& given, Reading& reading);
/// A spine bracket: two legs, one on each side of the rod, at right angles to it.
Fork read_bracket(TableReader& given, Reading& reading);
Counterweight read_counterweight(TableReader& given, const Reading& reading);
std::vector<StockWeight> read_stock(TableReader& given);

}  // namespace evenspit
