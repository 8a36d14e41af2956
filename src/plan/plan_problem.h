// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <stop_token>
#include <vector>

#include "analysis/analysis.h"
#include "analysis/clearance.h"
#include "plan/line_search.h"

namespace evenspit::plan {

/// A load made ready for planning: all that stays the same while arrangements are tried.
struct PlanProblem {
    const Assembly& assembly;
    Arrangement before;                              ///< as the load stands
    std::vector<PlanItem> items;                     ///< as in the assembly
    std::vector<std::vector<std::size_t>> forks_of;  ///< who holds which item: indices of forks, by item
    std::optional<FreeRadius> free;                  ///< absent: no cooker, nothing to clear
    /// Torques below it are all the same: arrangement a rod by hand makes out no less.
    double floor_n_m = 0;
    /// Little enough torque: under friction, so that the load never drives the gears, with something to
    /// spare, and under a twelfth of what it was.
    double enough_n_m = 0;
    SweepTrees trees{};      ///< for judging arrangements
    std::stop_token stop{};  ///< looked at wherever things are tried

    [[nodiscard]] const FreeRadius* free_radius() const { return free ? &*free : nullptr; }
};

/// \param analysis of the load as it stands
/// \throws Stopped once `stop` is asked to
PlanProblem plan_problem(const Assembly& assembly, const Analysis& analysis,
                         const std::stop_token& stop = {});

/// Whether an item lies in a basket: the rod does not run through it, and no fork holds it.
bool lies_in_basket(const PlanProblem& problem, std::size_t item);

/// Static unbalance of one item in a arrangement.
Unbalances item_unbalance(const PlanProblem& problem, const Arrangement& arrangement, std::size_t item);
/// Of everything, or of everything but one item.
Unbalances all_unbalance(const PlanProblem& problem, const Arrangement& arrangement,
                         std::optional<std::size_t> but = std::nullopt);
/// Peak gravity torque at the worse end of the cook, N m.
double worst_torque_n_m(const PlanProblem& problem, const Arrangement& arrangement);

}  // namespace evenspit::plan
