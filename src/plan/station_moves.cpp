// SPDX-License-Identifier: MIT
#include <algorithm>
#include <limits>
#include <variant>

#include "analysis/limits.h"
#include "analysis/placed.h"
#include "plan/fork_search.h"
#include "plan/moves.h"
#include "plan/station_search.h"
#include "units/stopped.h"

namespace evenspit::plan {
namespace {

std::vector<std::size_t> along_the_rod(const Arrangement& arrangement) {
    std::vector<std::size_t> order(arrangement.seats.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return arrangement.seats[a].at_m < arrangement.seats[b].at_m;
    });
    return order;
}

/// An item and its forks to another station.
void move_block(const PlanProblem& problem, Arrangement& arrangement, std::size_t i, double at_m) {
    const double by = at_m - arrangement.seats[i].at_m;
    if (by == 0) return;
    for (const std::size_t f : problem.forks_of[i]) {
        arrangement.forks[f].at_m =
            settled_place(arrangement.forks[f].at_m + by, problem.before.forks[f].at_m);
    }
    arrangement.seats[i].at_m = settled_place(at_m, problem.before.seats[i].at_m);
}

RodBlock body_block(const PlanProblem& problem, const Arrangement& arrangement, std::size_t i) {
    Seat still = arrangement.seats[i];
    still.at_m = 0;
    const Pose pose = pose_in(*problem.items[i].item, still);
    const std::array<double, 2> extent = problem.items[i].silhouette->extent(pose);
    return {.from_m = extent[0],
            .to_m = extent[1],
            .at_m = arrangement.seats[i].at_m,
            .room_m = [&problem, i, pose](double at) {
                stop_if_asked(problem.stop);
                if (!problem.free) return std::numeric_limits<double>::infinity();
                return problem.items[i].silhouette->room(Eigen::Translation3d(at, 0, 0) * pose,
                                                         *problem.free);
            }};
}

/// With the forks that hold it.
RodBlock block(const PlanProblem& problem, const Arrangement& arrangement, std::size_t i) {
    RodBlock block = body_block(problem, arrangement, i);
    for (const std::size_t f : problem.forks_of[i]) {
        const Fork& fork = arrangement.forks[f];
        const double hub = fork.at_m - block.at_m;
        block.from_m = std::min(block.from_m, hub - limits::half_hub_m);
        block.to_m = std::max(block.to_m, hub + limits::half_hub_m);
        for (const Tine& tine : fork.tines) {
            block.from_m = std::min(block.from_m, tine_tip(fork, tine) - block.at_m);
            block.to_m = std::max(block.to_m, tine_tip(fork, tine) - block.at_m);
        }
    }
    if (!problem.free) return block;
    // What the forks sweep beside what the body does.
    std::vector<Fork> forks;
    for (const std::size_t f : problem.forks_of[i]) forks.push_back(arrangement.forks[f]);
    block.room_m = [&problem, forks, at_m = block.at_m, body = block.room_m](double at) {
        double room = body(at);
        for (const Fork& fork : forks) {
            for (const Tine& tine : fork.tines) {
                const double a = fork.at_m - at_m + at, b = tine_tip(fork, tine) - at_m + at;
                room = std::min(room,
                                problem.free->least(std::min(a, b), std::max(a, b)) - pin_reach(fork, tine));
            }
        }
        return room;
    };
    return block;
}

/// By how much bodies stand out, into one another and into what they must clear, at their best stations;
/// m.
double misfit(const PlanProblem& problem, const Arrangement& arrangement) {
    std::vector<RodBlock> blocks;
    for (const std::size_t i : along_the_rod(arrangement))
        blocks.push_back(body_block(problem, arrangement, i));
    const StationsFound found =
        find_stations(blocks, {.usable_m = problem.assembly.rod.usable_m, .fire_m = {}});
    return found.overflow_m + std::max(0.0, -found.room_m);
}

}  // namespace

std::array<double, 2> fire_stretch(const Cooker& cooker) {
    std::array<double, 2> stretch{std::numeric_limits<double>::infinity(),
                                  -std::numeric_limits<double>::infinity()};
    const auto extend = [&stretch](double from, double to) {
        stretch = {std::min(stretch[0], from), std::max(stretch[1], to)};
    };
    for (const CookerSurface& surface : cooker.surfaces) {
        if (!surface.fire) continue;
        if (const auto* box = std::get_if<BoxShape>(&surface.shape)) extend(box->min.x(), box->max.x());
        if (const auto* wall = std::get_if<RevolvedShape>(&surface.shape)) {
            double radius = 0;
            for (const Vec2& p : wall->profile) radius = std::max(radius, p.x());
            extend(wall->centre.x() - radius, wall->centre.x() + radius);
        }
        if (const auto* mesh = std::get_if<MeshShape>(&surface.shape)) {
            const Box3 box = bounds(*mesh->mesh);
            extend(box.min().x(), box.max().x());
        }
    }
    return stretch;
}

void set_stations(const PlanProblem& problem, Arrangement& arrangement) {
    const std::vector<std::size_t> order = along_the_rod(arrangement);
    RodStretch stretch{.usable_m = problem.assembly.rod.usable_m,
                       .taken_m = {},
                       .fire_m = fire_stretch(problem.assembly.cooker)};
    for (const Counterweight& weight : arrangement.counterweights) {
        stretch.taken_m.push_back({weight.at_m - weight.diameter_m / 2, weight.at_m + weight.diameter_m / 2});
    }
    std::vector<RodBlock> blocks;
    blocks.reserve(order.size());
    for (const std::size_t i : order) blocks.push_back(block(problem, arrangement, i));
    const StationsFound found = find_stations(blocks, stretch);
    for (std::size_t k = 0; k < order.size(); ++k) move_block(problem, arrangement, order[k], found.at_m[k]);
}

void arrange(const PlanProblem& problem, Arrangement& arrangement) {
    constexpr std::size_t most = 4;  // items; more are left in their order
    constexpr double enough_to_change_m = 0.002;
    const std::size_t n = problem.items.size();
    double least = misfit(problem, arrangement);
    if (least < enough_to_change_m || n > most) return;
    std::vector<double> stations;
    std::vector<std::size_t> order(n);
    for (std::size_t i = 0; i < n; ++i) {
        stations.push_back(arrangement.seats[i].at_m);
        order[i] = i;
    }
    std::sort(stations.begin(), stations.end());
    const Arrangement start = arrangement;
    do {
        for (unsigned flips = 0; flips < 1U << n; ++flips) {
            Arrangement here = start;
            double changed = 0;
            for (std::size_t k = 0; k < n; ++k) {
                const std::size_t i = order[k];
                move_block(problem, here, i, stations[k]);
                changed += stations[k] != start.seats[i].at_m ? 1 : 0;
                if ((flips >> i & 1U) == 0) continue;
                here.seats[i].facing = here.seats[i].facing == Facing::point ? Facing::drive : Facing::point;
                changed += 1;
            }
            const double found = misfit(problem, here) + enough_to_change_m * changed;
            if (found < least) {
                least = found;
                arrangement = here;
            }
        }
    } while (std::next_permutation(order.begin(), order.end()));
}

}  // namespace evenspit::plan
