// SPDX-License-Identifier: MIT
#pragma once

#include <numbers>

#include "plan/plan_problem.h"

namespace evenspit {

/// In what steps hands set up a load: a tape is read to 5 mm against meat that gives, a dial held to a bird
/// to half an hour. Common practice.
struct HandSteps {
    double length_m = 0.005;
    double angle_rad = 15 * std::numbers::pi / 180;
};

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
};

/// An arrangement in such steps wherever it differs from how the load stands: rod lines where they are
/// measured (line_places()), an item's way along and about the rod, hubs and counterweights from the rod's
/// drive end, clocks. Forks keep to the steps of their bores. A rod line is rounded to the least torque that
/// a rod can take.
Arrangement on_steps(const PlanProblem& problem, const Arrangement& wanted, const HandSteps& steps);

/// The arrangement in such steps, near a wanted one, that holds best when hands are off.
///
/// Moves of one step are tried again and again: lines, items, hubs, clocks and counterweights, those that
/// leave less torque first. Each is weighed by what is wrong as written, then by how many standard deviations
/// keep its figures from the limits that ask for care, both from a few mountings (analysis/chance.h): the sum
/// of log Φ over what turns the load, the rod, the hold and each surface of the cooker.
///
/// \param may of lines and counterweights, only those that differ from how the load stands are moved further
/// \param looks how many arrangements may be weighed
/// \throws Stopped once `problem.stop` is asked to
Arrangement by_hand(const PlanProblem& problem, const Arrangement& wanted, const HandSteps& steps,
                    const MayMove& may, int looks);

}  // namespace evenspit
