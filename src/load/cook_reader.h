// SPDX-License-Identifier: MIT
#pragma once

#include "load/assembly.h"
#include "load/reading.h"

namespace evenspit {

/// Reads [cook].
Cook read_cook(TableReader& given);

}  // namespace evenspit
