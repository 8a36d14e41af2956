// SPDX-License-Identifier: MIT
#pragma once

#include "load/assembly.h"
#include "load/reading.h"

namespace evenspit {

/// Reads one [[item]] and makes its body: a parametric one by its name, or one from a scan.
///
/// The body stays null where the item's keys have complaints; those are enough to tell.
Item read_item(TableReader& given, Reading& reading);

}  // namespace evenspit
