// SPDX-License-Identifier: MIT
#pragma once

#include "load/setting.h"

namespace evenspit {

/// What there is to do from one setting to another; 0: nothing. About one for each thing that is moved; a new
/// rod line counts three, a counterweight two. From memory of how long each takes at a table.
double effort(const Setting& before, const Setting& after);

}  // namespace evenspit
