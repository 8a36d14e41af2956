// SPDX-License-Identifier: MIT
#pragma once

#include "analysis/results.h"
#include "load/assembly.h"

namespace evenspit::plan {

/// A counterweight to begin with: opposite the heavy side, on a usual arm, as heavy as it takes to cancel the
/// unbalance there. Whole ten grams and degrees, so that it can be found and set; drive-side of all forks
/// where the rod has room. Whether it clears anything is not looked at; find_counterweights() does.
Counterweight answering_weight(const Assembly& assembly, const Balance& balance);

}  // namespace evenspit::plan
