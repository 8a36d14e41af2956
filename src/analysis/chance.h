// SPDX-License-Identifier: MIT
#pragma once

#include <stop_token>

#include "analysis/analysis.h"
#include "analysis/clearance.h"

namespace evenspit {

/// Slabs that mountings are swept in, m: dents narrower than that count as filled, so that nothing is kinder
/// than the whole.
inline constexpr double mounting_step_m = 0.008;

/// How many mountings are tried unless one asks for another number.
inline constexpr int usual_mountings = 1024;

/// What `check` tells: the load as written, and how it fares in many mountings of it (analysis/mountings.h).
///
/// Each mounting has one verdict, the worst of its findings without those that hands see and mend while
/// mounting. The verdict on the load, and the level of each finding, is the worse of two: as written, and by
/// its chance (limits.h). Findings that only mountings have are added, each as it is in the middle one of
/// those mountings; where no finding reaches the verdict, one with Code::together tells which add up to it.
///
/// A load with roll tests that count is judged as they leave it: mountings of what is believed after them
/// (analysis/roll_belief.h), and "as written" is the load with every input at its mean.
///
/// The same to the last bit however many threads work on it.
///
/// \param mountings how many; 0: as written only
/// \param trees of the load's bodies, as sweep_trees() makes them; null: made here. They change no figure
/// \throws Stopped once `stop` is asked to
Analysis judge(const Assembly& assembly, int mountings = usual_mountings, const std::stop_token& stop = {},
               const SweepTrees* trees = nullptr);

/// The same for a load that has been analysed already.
void add_mountings(Analysis& analysis, const Assembly& assembly, int mountings,
                   const std::stop_token& stop = {}, const SweepTrees* trees = nullptr);

/// The level that a chance alone asks for.
///
/// \param stop, not_ready shares of all mountings
Level level_by_chance(double stop, double not_ready);

}  // namespace evenspit
