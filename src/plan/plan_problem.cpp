// SPDX-License-Identifier: MIT
#include "plan/plan_problem.h"

#include <algorithm>
#include <cmath>

#include "analysis/mountings.h"
#include "analysis/placed.h"
#include "units/standard_gravity.h"
#include "units/stopped.h"

namespace evenspit::plan {
namespace {

/// Torques below these shares of the motor's rating or of friction (whichever is more) are all the same, as
/// long as they are a small part of what it was.
constexpr double rating_floor = 0.004;
constexpr double friction_floor = 0.3;
constexpr double before_floor = 0.05;
/// Shares of friction and of what it was that are little enough.
constexpr double friction_share = 0.8;
constexpr double left_share = 0.08;

/// Which forks hold which item: each the item whose end its hub stands at, two to an item before a third.
std::vector<std::vector<std::size_t>> forks_of_items(const Assembly& assembly) {
    const std::vector<ItemOnRod> placed = items_on_rod(assembly);
    struct Pair {
        double distance_m;
        std::size_t fork, item;
    };
    std::vector<Pair> pairs;
    std::vector<std::pair<std::size_t, std::size_t>> others;  // brackets and baskets
    std::vector<std::vector<std::size_t>> owned(placed.size());
    std::vector<bool> taken(assembly.forks.size(), false);
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        const Fork& fork = assembly.forks[f];
        if (fork.kind != ForkKind::fork) {
            // It holds whatever it sits in or lies round, and counts as neither of the two.
            taken[f] = true;
            for (std::size_t i = 0; fork.kind == ForkKind::basket && i < placed.size(); ++i) {
                if (in_basket(assembly.items[i], fork)) others.emplace_back(f, i);
            }
            if (fork.kind == ForkKind::basket) continue;
            if (const int item = item_of_fork(assembly, fork); item >= 0)
                others.emplace_back(f, static_cast<std::size_t>(item));
            continue;
        }
        for (std::size_t i = 0; i < placed.size(); ++i) {
            const double end = fork.points == Facing::point ? placed[i].from() : placed[i].to();
            pairs.push_back({std::abs(fork.at_m - end), f, i});
        }
    }
    std::stable_sort(pairs.begin(), pairs.end(),
                     [](const Pair& a, const Pair& b) { return a.distance_m < b.distance_m; });
    for (const std::size_t most : {std::size_t{2}, assembly.forks.size()}) {
        for (const Pair& pair : pairs) {
            if (taken[pair.fork] || owned[pair.item].size() >= most) continue;
            taken[pair.fork] = true;
            owned[pair.item].push_back(pair.fork);
        }
    }
    for (const auto& [fork, item] : others) owned[item].push_back(fork);
    for (auto& forks : owned) std::sort(forks.begin(), forks.end());
    return owned;
}

/// The rod's sag at a station, from the rows of an analysis.
double sag_at(const std::vector<std::array<double, 2>>& sag, double x) {
    const auto next =
        std::partition_point(sag.begin(), sag.end(), [x](const auto& row) { return row[0] < x; });
    if (next == sag.begin()) return sag.front()[1];
    if (next == sag.end()) return sag.back()[1];
    const auto& a = *(next - 1);
    return std::lerp(a[1], (*next)[1], (x - a[0]) / ((*next)[0] - a[0]));
}

}  // namespace

PlanProblem plan_problem(const Assembly& assembly, const Analysis& analysis, const std::stop_token& stop) {
    PlanProblem problem{.assembly = assembly,
                        .before = arrangement_of(assembly),
                        .items = {},
                        .forks_of = forks_of_items(assembly),
                        .free = {}};
    const double rod_radius_m = section_properties(assembly.rod.section, assembly.rod.width_m).outer_radius_m;
    problem.stop = stop;
    for (const Item& item : assembly.items) {
        stop_if_asked(stop);
        problem.items.push_back(plan_item(item, rod_radius_m));
    }
    stop_if_asked(stop);
    const double before_n_m = worst_torque_n_m(problem, problem.before);
    const double friction_n_m = analysis.balance.friction_torque_n_m;
    problem.floor_n_m =
        std::min(before_floor * before_n_m,
                 std::max(rating_floor * assembly.motor.rated_torque_n_m, friction_floor * friction_n_m));
    problem.enough_n_m =
        std::max(problem.floor_n_m, std::min(friction_share * friction_n_m, left_share * before_n_m));
    if (!assembly.cooker.surfaces.empty()) {
        problem.free.emplace(assembly.cooker, 0, assembly.rod.length_m,
                             [&sag = analysis.rod.sag](double x) { return sag_at(sag, x); });
    }
    return problem;
}

bool lies_in_basket(const PlanProblem& problem, std::size_t item) {
    const std::vector<std::size_t>& forks = problem.forks_of[item];
    return std::any_of(forks.begin(), forks.end(), [&problem](std::size_t f) {
        return problem.before.forks[f].kind == ForkKind::basket;
    });
}

Unbalances item_unbalance(const PlanProblem& problem, const Arrangement& arrangement, std::size_t item) {
    return item_unbalance(*problem.items[item].item, problem.items[item].masses, arrangement.seats[item]);
}

Unbalances all_unbalance(const PlanProblem& problem, const Arrangement& arrangement,
                         std::optional<std::size_t> but) {
    Unbalances sum = fork_unbalance(arrangement.forks) + counterweight_unbalance(arrangement.counterweights);
    for (std::size_t i = 0; i < problem.items.size(); ++i) {
        if (i != but) sum = sum + item_unbalance(problem, arrangement, i);
    }
    return sum;
}

double worst_torque_n_m(const PlanProblem& problem, const Arrangement& arrangement) {
    return standard_gravity * worst_size(all_unbalance(problem, arrangement));
}

}  // namespace evenspit::plan
