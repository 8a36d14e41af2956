// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "plan/unbalance.h"

namespace evenspit::plan {

/// Turns that make things cancel.
struct TurnsFound {
    std::vector<double> turns_rad;  ///< to add to each one's turn; whole multiples of 1° or of the step
    double unbalance_kg_m = 0;      ///< of everything, at the worse end of the cook
};

/// How to turn things on one rod against each other so that the static unbalance of all is least at the worse
/// end of the cook.
///
/// Coordinate descent in steps of `step_rad`, from the present turns and from every spread of them by quarter
/// turns, then two at a time over all their turns (so that for two things the answer is exact). Of unbalances
/// that differ by less than one part in a thousand the one with less turning is taken.
///
/// \param things each one's own unbalance as it sits now
/// \param rest of what does not turn against the rod
/// \param step_rad divides a full turn
TurnsFound find_turns(const std::vector<Unbalances>& things, const Unbalances& rest, double step_rad);

}  // namespace evenspit::plan
