// SPDX-License-Identifier: MIT
#pragma once

#include <stop_token>
#include <vector>

#include "analysis/beam.h"
#include "analysis/placed.h"
#include "analysis/results.h"

namespace evenspit {

/// As near as gaps are told, m.
inline constexpr double finest_gap_m = 1e-7;

/// An outline with whose each piece is.
struct SweptLoad {
    Outline outline;
    std::vector<Thing> parts;  ///< by OutlinePiece::part
};

/// Of one item: the meshes that displace, item frame. Not owned.
using SweptItemParts = std::vector<const TriangleMesh*>;

/// Those of its body.
SweptItemParts displacing_parts(const Body& body);

/// What items (loose limbs swung out), forks and counterweights sweep. The rod is left out: it passes through
/// the cooker's walls where it is meant to.
SweptLoad swept_load(const Assembly& assembly);
/// The same with other meshes in place of the bodies' own, and another step (sweep()).
///
/// \pre one entry an item
SweptLoad swept_load(const Assembly& assembly, const std::vector<SweptItemParts>& items,
                     double step_m = 1e-3);

/// The gap of that outline, lowered at each station by the beam's sag, to each of the cooker's surfaces.
///
/// \param accuracy_m of the gaps (SaggedLoad); coarser ones than the finest are told so much smaller
///
/// \throws Stopped once `stop` is asked to
Clearance clearance(const Cooker& cooker, SweptLoad load, const Beam& beam, double accuracy_m = finest_gap_m,
                    const std::stop_token& stop = {});

}  // namespace evenspit
