// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "analysis/placed.h"
#include "analysis/results.h"

namespace evenspit {

/// Whether everything has a place of its own on the usable stretch of the rod: items, forks (hub to tip) and
/// counterweights inside it; no two items, hubs or weights in one place; no bone in the rod's way; each
/// item's centre of mass between the forks that hold it; and the habits of the trade that concern places
/// (told without weight in the verdict).
std::vector<Finding> place_findings(const Assembly& assembly, const std::vector<PlacedItem>& placed,
                                    const Grip& grip);

}  // namespace evenspit
