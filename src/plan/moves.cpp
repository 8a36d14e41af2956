// SPDX-License-Identifier: MIT
#include "plan/moves.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/fork_search.h"
#include "plan/turn_search.h"
#include "units/standard_gravity.h"

namespace evenspit::plan {
namespace {

constexpr double turn_step_rad = 5 * std::numbers::pi / 180;
/// Missing room that counts as much as the motor's rated torque: first so that room is always made where it
/// can be had, then, where it cannot, so that balance is not given up for it.
constexpr double room_first_m = 0.001;
constexpr double room_shared_m = 0.025;

void turn_item(const PlanProblem& problem, Arrangement& arrangement, std::size_t i, double turn_rad) {
    if (turn_rad == 0) return;
    arrangement.seats[i].turn_rad += turn_rad;
    arrangement.seats[i] = settled(arrangement.seats[i], problem.before.seats[i]);
    for (const std::size_t f : problem.forks_of[i]) {
        const double step = fork_clock_step(arrangement.forks[f], problem.assembly.rod);
        arrangement.forks[f] = turned(arrangement.forks[f], std::round(turn_rad / step) * step);
    }
}

/// What the rod bears at a station between its supports, as a share of its yield strength, while every
/// item hangs at stations on either side of it: reaction times lever, whatever the hubs' places. The
/// rod's own weight is left out.
std::function<double(double, Facing)> rod_use(const PlanProblem& problem, const Arrangement& arrangement) {
    const Rod& rod = problem.assembly.rod;
    double weight_n = 0, moment_n_m = 0;
    for (std::size_t i = 0; i < problem.items.size(); ++i) {
        const Vec3 centre =
            pose_in(*problem.items[i].item, arrangement.seats[i]) * problem.items[i].masses[0].centre;
        weight_n += problem.items[i].masses[0].mass_kg * standard_gravity;
        moment_n_m +=
            problem.items[i].masses[0].mass_kg * standard_gravity * (centre.x() - rod.supports_m[0]);
    }
    const double span = rod.supports_m[1] - rod.supports_m[0];
    const double far_n = moment_n_m / span, drive_n = weight_n - far_n;
    const double bearable_n_m = section_properties(rod.section, rod.width_m).least_modulus_m3 *
                                rod.material.yield_at(rod.temperature_k);
    return [=, supports = rod.supports_m](double station, Facing end) {
        const double bending =
            end == Facing::point ? drive_n * (station - supports[0]) : far_n * (supports[1] - station);
        return std::max(0.0, bending) / bearable_n_m;
    };
}

}  // namespace

std::optional<RodLimit> set_lines(const PlanProblem& problem, Arrangement& arrangement, bool may_turn) {
    std::optional<RodLimit> held_by;
    const auto seek = [&](std::size_t i, const Unbalances& others) {
        if (lies_in_basket(problem, i)) return;
        LineGoal goal{
            .seat = arrangement.seats[i],
            .rest = others,
            .free = problem.free_radius(),
            .torque_floor_n_m = problem.floor_n_m,
            .torque_per_room_n_m_m = problem.assembly.motor.rated_torque_n_m / room_first_m,
            .torque_per_missing_room_n_m_m = problem.assembly.motor.rated_torque_n_m / room_shared_m,
            .stop = problem.stop};
        goal.seat.line = problem.before.seats[i].line;  // what it is near to
        const LineFound found = find_line(problem.items[i], goal);
        arrangement.seats[i].line = found.line;
        arrangement.seats[i] = settled(arrangement.seats[i], problem.before.seats[i]);
        if (found.torque_n_m > problem.enough_n_m && found.passage.slack_m < 2e-3)
            held_by = found.passage.limit;
    };
    if (problem.items.size() == 1) {
        seek(0, all_unbalance(problem, arrangement, 0));
        return held_by;
    }
    for (std::size_t i = 0; i < problem.items.size(); ++i) seek(i, no_unbalance());
    if (may_turn) set_turns(problem, arrangement);
    // Where one cannot be balanced alone the others lean against it.
    if (worst_torque_n_m(problem, arrangement) > problem.enough_n_m) {
        held_by.reset();
        for (std::size_t i = 0; i < problem.items.size(); ++i)
            seek(i, all_unbalance(problem, arrangement, i));
    }
    return held_by;
}

void set_turns(const PlanProblem& problem, Arrangement& arrangement) {
    std::vector<Unbalances> things;
    for (std::size_t i = 0; i < problem.items.size(); ++i)
        things.push_back(item_unbalance(problem, arrangement, i));
    const Unbalances others =
        fork_unbalance(arrangement.forks) + counterweight_unbalance(arrangement.counterweights);
    const TurnsFound found = find_turns(things, others, turn_step_rad);
    for (std::size_t i = 0; i < problem.items.size(); ++i)
        turn_item(problem, arrangement, i, found.turns_rad[i]);
}

double set_forks(const PlanProblem& problem, Arrangement& arrangement, bool may_turn) {
    double worst = 0;
    for (std::size_t i = 0; i < problem.items.size(); ++i) {
        ForkGoal goal{.seat = arrangement.seats[i],
                      .forks = {},
                      .may_turn = may_turn,
                      .rod_use = rod_use(problem, arrangement),
                      .free = problem.free_radius(),
                      .torque_n_m = standard_gravity * worst_size(item_unbalance(problem, arrangement, i)),
                      .weight_n = standard_gravity * matter_of(problem.assembly.items[i]).mass_kg,
                      .rod_width_m = problem.assembly.rod.width_m,
                      .stop = problem.stop};
        std::vector<std::size_t> sought;
        for (const std::size_t f : problem.forks_of[i]) {
            if (arrangement.forks[f].kind != ForkKind::fork) continue;
            sought.push_back(f);
            goal.forks.push_back(arrangement.forks[f]);
            goal.clock_steps_rad.push_back(fork_clock_step(goal.forks.back(), problem.assembly.rod));
        }
        const ForksFound found = find_forks(problem.items[i], goal);
        worst = std::max(worst, found.price);
        Seat& seat = arrangement.seats[i];
        const double turned_by = found.turn_rad - seat.turn_rad;
        seat.turn_rad = found.turn_rad;
        seat = settled(seat, problem.before.seats[i]);
        for (const std::size_t f : problem.forks_of[i]) {
            // A bracket stays at the spine, and a basket round what lies in it.
            Fork& fork = arrangement.forks[f];
            const double step = fork_clock_step(fork, problem.assembly.rod);
            if (fork.kind != ForkKind::fork && turned_by != 0)
                fork = turned(fork, std::round(turned_by / step) * step);
        }
        for (std::size_t k = 0; k < sought.size(); ++k) {
            Fork& fork = arrangement.forks[sought[k]];
            const ForkPlace& place = found.places[k];
            fork = turned(fork, place.turned_rad);
            fork.points = place.points;
            fork.at_m = settled_place(seat.at_m + place.from_item_m, problem.before.forks[sought[k]].at_m);
        }
    }
    return worst;
}

}  // namespace evenspit::plan
