// SPDX-License-Identifier: MIT
#pragma once

#include "load/reading.h"
#include "rig/rig.h"

namespace evenspit {

/// Reads [cooker]: the surfaces of its model, and those given beside it, which are added or take the place of
/// one of the same name.
Cooker read_cooker(TableReader& given, Reading& reading);

}  // namespace evenspit
