// SPDX-License-Identifier: MIT
#pragma once

#include "load/arrangement.h"

namespace evenspit::plan {

/// What there is to do from one arrangement to another; 0: nothing. About one for each thing that is moved; a
/// new rod line counts three, a counterweight two. From memory of how long each takes at a table.
double effort(const Arrangement& before, const Arrangement& after);

}  // namespace evenspit::plan
