// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>

#include "plan/plan_problem.h"

namespace evenspit::plan {

// Each makes one thing of a arrangement better and leaves the rest as it is. What is set is whole millimetres
// and degrees, or just what it was.

/// New rod lines: each item on its own first; where that does not do, against what the others leave.
///
/// \param may_turn whether several items may be turned against each other as well
/// \returns what keeps a rod from the centre of mass, if anything does
std::optional<RodLimit> set_lines(const PlanProblem& problem, Arrangement& arrangement, bool may_turn);

/// Items turned against each other, in steps of 5°; an item's forks turn with it as far as the rod's section
/// lets them.
void set_turns(const PlanProblem& problem, Arrangement& arrangement);

/// Hubs, ways and clocks of the forks of every item; and the items' clocks, if these may turn.
///
/// \returns the price of the worst of them, as find_forks() counts it
double set_forks(const PlanProblem& problem, Arrangement& arrangement, bool may_turn);

/// Items with their forks along the rod.
void set_stations(const PlanProblem& problem, Arrangement& arrangement);

/// Another order along the rod, and another way to look, where items do not fit as they are: of those that
/// fit best the one with the least changed. More than four items are left in their order.
void arrange(const PlanProblem& problem, Arrangement& arrangement);

/// The stretch of the rod over the fire; empty (first > second) if there is none, or it has no ends.
std::array<double, 2> fire_stretch(const Cooker& cooker);

}  // namespace evenspit::plan
