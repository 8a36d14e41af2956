// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <vector>

#include "analysis/placed.h"
#include "analysis/results.h"

namespace evenspit {

class AnalysisMemory;

/// Whether everything has a place of its own on the usable stretch of the rod: items, forks (hub to tip) and
/// counterweights inside it; no two items, hubs or weights in one place; no bone in the rod's way; each
/// item's centre of mass between the forks that hold it; and the habits of the trade that concern places
/// (told without weight in the verdict).
///
/// \param memory null: nothing is known before, and nothing kept
std::vector<Finding> place_findings(const Assembly& assembly, const std::vector<ItemOnRod>& placed,
                                    const Grip& grip, AnalysisMemory* memory = nullptr);

/// The forks that belong to an item, for none is nearer, and whose tines look away from it and from all
/// others: put on the wrong way round. In file order.
std::vector<std::size_t> forks_looking_away(const Assembly& assembly, std::size_t item);

}  // namespace evenspit
