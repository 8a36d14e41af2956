// SPDX-License-Identifier: MIT
#pragma once

#include "load/reading.h"
#include "rig/rig.h"

namespace evenspit {

/// The gap to keep from a surface, and from fire. Common practice, no source.
inline constexpr double usual_keep_m = 0.025;
inline constexpr double usual_fire_keep_m = 0.050;

/// Reads [cooker]: the surfaces of its model, and those given beside it, which are added or take the place of
/// one of the same name.
Cooker read_cooker(TableReader& given, Reading& reading);

}  // namespace evenspit
