// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <stop_token>
#include <vector>

#include "analysis/analysis.h"

namespace evenspit::scene {

/// The rod's run through an item as hands may have put it, seen in the item as it is drawn; rod frame at turn
/// 0, m.
struct RodRun {
    std::size_t item = 0;
    Vec3 from = Vec3::Zero(), to = Vec3::Zero();
    double off_m = 0;  ///< from where it is drawn, at the end that is off by more
};

/// A load as hands may have set it up, for a picture of the load as it is drawn.
struct DrawnMounting {
    std::vector<RodRun> rods;    ///< by item
    Vec3 centre = Vec3::Zero();  ///< of mass of all that turns; rod frame at turn 0, m
    Level verdict = Level::ready;
};

/// The first mountings of a load, which are the same for everyone who tries them: where the rod really lies
/// in each, and what comes of it; see Mountings and judge().
///
/// \throws Stopped once `stop` is asked to
std::vector<DrawnMounting> mounting_cloud(const Assembly& assembly, std::size_t count,
                                          const std::stop_token& stop = {});

}  // namespace evenspit::scene
