// SPDX-License-Identifier: MIT
#pragma once

#include "load/assembly.h"
#include "load/reading.h"

namespace evenspit {

/// Meat out of the refrigerator: 40 °F, as cold as USDA tells to keep it. What counts where a load file does
/// not tell.
inline constexpr double refrigerator_k = 277.59;

/// Reads [cook].
Cook read_cook(TableReader& given);

/// Complains about pull temperatures of places that there are not; of those that only these items lack it is
/// told that nothing waits for them.
void refuse_unknown_places(TableReader& given, const Cook& cook, const std::vector<Item>& items,
                           Reading& reading);

}  // namespace evenspit
