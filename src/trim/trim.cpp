// SPDX-License-Identifier: MIT
#include "trim/trim.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "analysis/balance.h"
#include "analysis/limits.h"
#include "plan/plan_problem.h"
#include "plan/weight_room.h"
#include "units/standard_gravity.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

/// What is left may pull with this share of the friction in the motor, and of what it pulled before. Common
/// practice.
constexpr double left_of_friction = 0.3;
constexpr double left_of_before = 0.1;
/// A shift smaller than that is nothing, in standard deviations.
constexpr double least_shift = 1e-6;
/// Without a stock: an arm that is handy, and weights by so much. Common practice.
constexpr double handy_arm_m = 0.080;
constexpr double weight_step_kg = 0.05;

std::vector<InputShift> shifts_of(const RollBelief& belief) {
    std::vector<InputShift> shifts;
    const std::vector<Input>& inputs = belief.inputs().inputs();
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        const std::size_t first = belief.inputs().first_deviate(i);
        const std::size_t next =
            i + 1 < inputs.size() ? belief.inputs().first_deviate(i + 1) : belief.inputs().width();
        const double size =
            belief.mean()
                .segment(static_cast<Eigen::Index>(first), static_cast<Eigen::Index>(next - first))
                .norm();
        if (size > least_shift) shifts.push_back({inputs[i], size});
    }
    std::stable_sort(shifts.begin(), shifts.end(),
                     [](const InputShift& a, const InputShift& b) { return a.deviations > b.deviations; });
    return shifts;
}

/// Two weights that take up one stretch of the rod.
bool in_one_place(const Counterweight& a, const Counterweight& b) {
    return std::abs(a.at_m - b.at_m) < (a.diameter_m + b.diameter_m) / 2 + limits::weights_apart_m;
}

/// What the cooker leaves free for a weight that hands may set a little further out, twice the standard
/// deviation.
plan::FreeRadius room_to_spare(const Assembly& load, double sag_m) {
    Cooker cooker = load.cooker;
    const double spare_m = 2 * std::hypot(load.spread.counterweight_radius_m, load.spread.cooker_measures_m);
    for (CookerSurface& surface : cooker.surfaces) surface.keep_m += spare_m;
    return {cooker, 0, load.rod.length_m, [sag_m](double) { return sag_m; }};
}

/// A weight to hang opposite the heavy side: the lightest that lies ready and has the arm for it.
HungWeight weight_to_hang(const std::vector<StockWeight>& stock, const Vec2& unbalance) {
    const double size = unbalance.norm();
    HungWeight hung{.clock_rad = whole_degrees(std::atan2(-unbalance.y(), -unbalance.x()))};
    std::vector<StockWeight> by_mass = stock;
    std::stable_sort(by_mass.begin(), by_mass.end(),
                     [](const StockWeight& a, const StockWeight& b) { return a.mass_kg < b.mass_kg; });
    for (const StockWeight& weight : by_mass) {
        hung.mass_kg = weight.mass_kg;
        hung.radius_m = whole_mm(std::clamp(size / weight.mass_kg, weight.radius_min_m, weight.radius_max_m));
        if (weight.mass_kg * weight.radius_max_m >= size) return hung;
    }
    if (!by_mass.empty()) return hung;
    hung.mass_kg = std::max(weight_step_kg, weight_step_kg * std::round(size / handy_arm_m / weight_step_kg));
    hung.radius_m = whole_mm(size / hung.mass_kg);
    return hung;
}

}  // namespace

std::vector<StockWeight> left_in_stock(const Assembly& assembly) {
    std::vector<StockWeight> left = assembly.stock;
    for (const Counterweight& on_rod : assembly.counterweights) {
        const auto taken = std::find_if(left.begin(), left.end(), [&](const StockWeight& weight) {
            return weight.mass_kg == on_rod.mass_kg && weight.diameter_m == on_rod.diameter_m;
        });
        if (taken != left.end()) left.erase(taken);
    }
    return left;
}

plan::CounterweightGoal trim_goal(const Assembly& rolled, const Assembly& believed, double friction_n_m) {
    plan::CounterweightGoal goal;
    const Vec2 raw = unbalance_of(believed, Doneness::raw);
    goal.unbalance = {raw, believed.cook ? unbalance_of(believed, Doneness::cooked) : raw};
    double mass = 0;
    for (const TurningMass& m : turning_masses(believed, Doneness::raw)) {
        mass += m.mass_kg;
        goal.centre_m += m.mass_kg * m.centre.x();
    }
    goal.centre_m /= mass;
    const double friction = left_of_friction * friction_n_m / standard_gravity;
    const double size = plan::worst_size(goal.unbalance);
    // What friction holds may stay; who trims at all takes more out.
    goal.enough_kg_m = size > friction ? std::min(friction, left_of_before * size) : friction;
    goal.stock = left_in_stock(rolled);
    goal.usable_m = rolled.rod.usable_m;
    return goal;
}

Trim trim(const Assembly& rolled, int mountings, const std::stop_token& stop) {
    Trim result;
    const RollBelief belief(rolled);
    result.found = belief.found();
    result.shifts = shifts_of(belief);
    result.believed = belief.load();
    result.before = judge(rolled, mountings, stop);
    result.trimmed = rolled;
    stop_if_asked(stop);

    plan::CounterweightGoal goal =
        trim_goal(rolled, result.believed, result.before.balance.friction_torque_n_m);
    result.from_stock = !goal.stock.empty();
    result.needed = plan::worst_size(goal.unbalance) > goal.enough_kg_m;
    const bool weighed = std::any_of(rolled.roll_tests.begin(), rolled.roll_tests.end(),
                                     [](const RollTest& test) { return test.counts && test.hung; });
    if (!weighed && result.needed) result.to_hang = weight_to_hang(goal.stock, goal.unbalance[0]);
    if (result.needed) {
        const plan::PlanProblem problem = plan::plan_problem(result.believed, result.before, stop);
        const plan::WeightRoom room(problem, problem.before);
        // Room as hands need it; where that leaves no place, room as written.
        const plan::FreeRadius roomy = room_to_spare(rolled, result.before.rod.sag_max_m);
        if (problem.free) goal.free = &roomy;
        goal.blocked = [&](const Counterweight& weight) {
            stop_if_asked(stop);
            return room.blocked(weight) ||
                   std::any_of(rolled.counterweights.begin(), rolled.counterweights.end(),
                               [&](const Counterweight& there) { return in_one_place(weight, there); });
        };
        result.added = plan::find_counterweights(goal).weights;
        if (result.added.empty() && problem.free) {
            goal.free = problem.free_radius();
            result.added = plan::find_counterweights(goal).weights;
        }
    }
    result.trimmed.counterweights.insert(result.trimmed.counterweights.end(), result.added.begin(),
                                         result.added.end());
    result.after = result.added.empty() ? result.before : judge(result.trimmed, mountings, stop);
    return result;
}

}  // namespace evenspit
