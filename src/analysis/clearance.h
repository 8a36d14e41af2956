// SPDX-License-Identifier: MIT
#pragma once

#include <stop_token>
#include <vector>

#include "analysis/beam.h"
#include "analysis/placed.h"
#include "analysis/results.h"

namespace evenspit {

/// An outline with whose each piece is.
struct SweptLoad {
    Outline outline;
    std::vector<Thing> parts;  ///< by OutlinePiece::part
};

/// What items (loose limbs swung out), forks and counterweights sweep. The rod is left out: it passes through
/// the cooker's walls where it is meant to.
SweptLoad swept_load(const Assembly& assembly, const std::vector<PlacedItem>& placed);

/// The gap of that outline, lowered at each station by the beam's sag, to each of the cooker's surfaces.
///
/// \throws Stopped once `stop` is asked to
Clearance clearance(const Cooker& cooker, SweptLoad load, const Beam& beam, const std::stop_token& stop = {});

}  // namespace evenspit
