// SPDX-License-Identifier: MIT
#include "plan/weight_room.h"

#include <algorithm>
#include <numbers>

#include "analysis/limits.h"
#include "analysis/placed.h"
#include "plan/fork_search.h"

namespace evenspit::plan {
namespace {

/// Between the middles of two things clamped to the rod, and a millimetre to spare.
constexpr double hub_m = 2 * limits::half_hub_m + 0.001;

bool pin_beside(const Counterweight& weight, const Fork& fork, const Tine& tine) {
    const double half = weight.diameter_m / 2;
    const auto [from, to] = tine_stretch(fork, tine);
    if (to < weight.at_m - half || from > weight.at_m + half) return false;
    const Vec2 centre = rod_point(0, weight.radius_m, weight.clock_rad).tail<2>();
    return beside_rod_m(pin_line(fork, tine), centre) < half + tine.diameter_m;
}

}  // namespace

WeightRoom::WeightRoom(const PlanProblem& problem, const Arrangement& arrangement)
    : forks_(arrangement.forks) {
    for (std::size_t i = 0; i < problem.items.size(); ++i) {
        const PlanItem& item = problem.items[i];
        const Pose pose = pose_in(*item.item, arrangement.seats[i]);
        Obstacle obstacle{&item.parts->flesh(), item.silhouette->extent(pose),
                          meat_on_axis(item, arrangement.seats[i]), pose.inverse()};
        for (double& x : obstacle.meat_m) x += arrangement.seats[i].at_m;
        items_.push_back(obstacle);
    }
}

bool WeightRoom::blocked(const Counterweight& weight) const {
    const double half = weight.diameter_m / 2;
    for (const Fork& fork : forks_) {
        if (std::abs(fork.at_m - weight.at_m) < hub_m) return true;
        for (const Tine& tine : fork.tines) {
            if (pin_beside(weight, fork, tine)) return true;
        }
    }
    for (const Obstacle& item : items_) {
        if (weight.at_m + half < item.body_m[0] - limits::weights_apart_m ||
            weight.at_m - half > item.body_m[1] + limits::weights_apart_m)
            continue;
        if (weight.at_m > item.meat_m[0] - limits::weights_apart_m &&
            weight.at_m < item.meat_m[1] + limits::weights_apart_m)
            return true;
        const Vec3 foot = item.to_item * Vec3(weight.at_m, 0, 0);
        const Vec3 centre = item.to_item * rod_point(weight.at_m, weight.radius_m, weight.clock_rad);
        // A round weight as long as it is wide lies within √2 of its half width.
        const double needed_m = std::numbers::sqrt2 * half + limits::weights_apart_m;
        if (item.flesh->closest(centre, needed_m).distance < needed_m) return true;
        if (!item.flesh->inside(foot, centre).empty() || item.flesh->contains(centre)) return true;
    }
    return false;
}

std::vector<StockWeight> weights_at_hand(const Assembly& assembly) {
    std::vector<StockWeight> weights = assembly.stock;
    for (const Counterweight& on_rod : assembly.counterweights) {
        const bool listed =
            std::any_of(assembly.stock.begin(), assembly.stock.end(), [&](const StockWeight& weight) {
                return weight.mass_kg == on_rod.mass_kg && weight.diameter_m == on_rod.diameter_m;
            });
        if (listed) continue;
        weights.push_back({on_rod.mass_kg, on_rod.radius_m, on_rod.radius_m, on_rod.diameter_m});
    }
    return weights;
}

}  // namespace evenspit::plan
