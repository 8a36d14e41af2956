// SPDX-License-Identifier: MIT
#pragma once

#include "load/spread.h"
#include "load/table_reader.h"

namespace evenspit {

/// Reads [spread]: how far what is done may be off, one standard deviation each. What the table leaves out
/// keeps its default; `none = true`, which stands alone, is Spread::none().
///
/// Complains about what is below zero and about what nobody is off by: more than 100 mm, a quarter turn or
/// 100 %.
Spread read_spread(TableReader& given);

}  // namespace evenspit
