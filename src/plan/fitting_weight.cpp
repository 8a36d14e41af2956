// SPDX-License-Identifier: MIT
#include "plan/fitting_weight.h"

#include <algorithm>
#include <cmath>

#include "analysis/limits.h"
#include "plan/counterweight_search.h"
#include "plan/plan_problem.h"
#include "plan/weight_room.h"
#include "units/stopped.h"

namespace evenspit::plan {
namespace {

// Who hangs a weight on wants most of the unbalance gone; common practice.
constexpr double left_share = 0.1;

bool lie_together(const Counterweight& a, const Counterweight& b) {
    return std::abs(a.at_m - b.at_m) < (a.diameter_m + b.diameter_m) / 2 + limits::weights_apart_m;
}

std::vector<StockWeight> not_on_rod(const Assembly& load) {
    std::vector<StockWeight> left = load.stock;
    for (const Counterweight& on_rod : load.counterweights) {
        const auto taken = std::find_if(left.begin(), left.end(), [&](const StockWeight& weight) {
            return weight.mass_kg == on_rod.mass_kg && weight.diameter_m == on_rod.diameter_m;
        });
        if (taken != left.end()) left.erase(taken);
    }
    return left;
}

}  // namespace

std::vector<Counterweight> fitting_weights(const Assembly& load, const Analysis& now,
                                           const std::stop_token& stop) {
    const PlanProblem problem = plan_problem(load, now, stop);
    const WeightRoom room(problem, problem.before);
    CounterweightGoal goal;
    goal.unbalance = all_unbalance(problem, problem.before);
    goal.centre_m = now.balance.centre_x_m;
    goal.enough_kg_m = left_share * worst_size(goal.unbalance);
    goal.stock = not_on_rod(load);
    goal.usable_m = load.rod.usable_m;
    goal.free = problem.free_radius();
    goal.blocked = [&](const Counterweight& weight) {
        stop_if_asked(stop);
        return room.blocked(weight) ||
               std::any_of(load.counterweights.begin(), load.counterweights.end(),
                           [&](const Counterweight& there) { return lie_together(weight, there); });
    };
    return find_counterweights(goal).weights;
}

}  // namespace evenspit::plan
