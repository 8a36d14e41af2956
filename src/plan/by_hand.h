// SPDX-License-Identifier: MIT
#pragma once

#include "plan/hand_steps.h"

namespace evenspit::plan {

/// What a plan may touch.
struct MayMove {
    bool line = true;      ///< where rods run through items
    bool turn = true;      ///< items about the rod
    bool stations = true;  ///< items along the rod, with their forks
    bool forks = true;
    bool counterweights = true;

    /// What both allow.
    [[nodiscard]] MayMove and_only(const MayMove& other) const {
        return {.line = line && other.line,
                .turn = turn && other.turn,
                .stations = stations && other.stations,
                .forks = forks && other.forks,
                .counterweights = counterweights && other.counterweights};
    }

    bool operator==(const MayMove&) const = default;
};

/// The arrangement in hands' steps, near a wanted one, that holds best when hands are off.
///
/// Round after round all moves of a step or two are looked at: lines, items, hubs, clocks and counterweights.
/// Each is told by its figures as written how it will fare (expected_margin()); those that promise most are
/// weighed by a few mountings (weighed()), and the first that gains is taken.
///
/// \param may of lines and counterweights, only those that differ from how the load stands are moved further
/// \param rounds how many
/// \throws Stopped once `problem.stop` is asked to
Arrangement by_hand(const PlanProblem& problem, const Arrangement& wanted, const HandSteps& steps,
                    const MayMove& may, int rounds);

}  // namespace evenspit::plan
