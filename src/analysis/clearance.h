// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <stop_token>
#include <vector>

#include "analysis/beam.h"
#include "analysis/placed.h"
#include "analysis/results.h"
#include "geometry/sweep_tree.h"

namespace evenspit {

class AnalysisMemory;

/// As near as gaps are told, m.
inline constexpr double finest_gap_m = 1e-7;

/// Slabs that a load is swept in, m.
inline constexpr double outline_step_m = 1e-3;

/// An outline with whose each piece is.
struct SweptLoad {
    Outline outline;
    std::vector<Thing> parts;  ///< by OutlinePiece::part
};

/// Of meshes, by where they lie, what sweeps them quickly.
using SweepTrees = std::map<const TriangleMesh*, SweepTree>;

/// Of all meshes that items of the load sweep, tied or undone, however it is set up; good as long as their
/// bodies are there.
SweepTrees sweep_trees(const Assembly& load);

/// What items (loose limbs swung out), forks and counterweights sweep. The rod is left out: it passes through
/// the cooker's walls where it is meant to.
///
/// \param step_m see sweep()
/// \param trees meshes that are not there are swept without; the outline is the same
/// \param memory null: nothing is known before, and nothing kept
SweptLoad swept_load(const Assembly& assembly, double step_m = outline_step_m, const SweepTrees& trees = {},
                     AnalysisMemory* memory = nullptr);

/// The gap of that outline, lowered at each station by the beam's sag, to each of the cooker's surfaces.
///
/// \param accuracy_m of the gaps (SaggedLoad); coarser ones than the finest are told so much smaller
///
/// \throws Stopped once `stop` is asked to
Clearance clearance(const Cooker& cooker, SweptLoad load, const Beam& beam, double accuracy_m = finest_gap_m,
                    const std::stop_token& stop = {});

}  // namespace evenspit
