// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "plan/scene.h"

namespace evenspit {

// Each makes one thing of a setting better and leaves the rest as it is. What is set is whole millimetres and
// degrees, or just what it was.

/// New rod lines: each item on its own first; where that does not do, against what the others leave.
///
/// \returns what keeps a rod from the centre of mass, if anything does
std::optional<RodLimit> set_lines(const PlanScene& scene, Setting& setting);

/// Items turned against each other, in steps of 5°; an item's forks turn with it as far as the rod's section
/// lets them.
void set_turns(const PlanScene& scene, Setting& setting);

/// Hubs, ways and clocks of the forks of every item; and the items' clocks, if these may turn.
///
/// \returns the price of the worst of them, as find_forks() counts it
double set_forks(const PlanScene& scene, Setting& setting, bool may_turn);

/// Items with their forks along the rod.
void set_stations(const PlanScene& scene, Setting& setting);

/// Another order along the rod, and another way to look, where items do not fit as they are: of those that
/// fit best the one with the least changed. More than four items are left in their order.
void arrange(const PlanScene& scene, Setting& setting);

}  // namespace evenspit
