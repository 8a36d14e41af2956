// SPDX-License-Identifier: MIT
#pragma once

#include "analysis/analysis.h"
#include "analysis/beam.h"
#include "analysis/placed.h"

namespace evenspit {

/// What items (loose limbs swung out), forks and counterweights sweep. The rod is left out: it passes through
/// the cooker's walls where it is meant to.
Outline swept_outline(const Assembly& assembly, const std::vector<PlacedItem>& placed);

/// The gap of that outline, lowered at each station by the beam's sag, to each of the cooker's surfaces.
///
/// \throws Stopped once `stop` is asked to
Clearance clearance(const Cooker& cooker, Outline outline, const Beam& beam,
                    const std::stop_token& stop = {});

}  // namespace evenspit
