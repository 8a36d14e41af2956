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

namespace evenspit {
namespace {

/// The stretch of the rod over the fire; empty if there is none, or it has no ends.
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

std::vector<std::size_t> along_the_rod(const Setting& setting) {
    std::vector<std::size_t> order(setting.seats.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return setting.seats[a].at_m < setting.seats[b].at_m;
    });
    return order;
}

/// An item and its forks to another station.
void move_block(const PlanScene& scene, Setting& setting, std::size_t i, double at_m) {
    const double by = at_m - setting.seats[i].at_m;
    if (by == 0) return;
    for (const std::size_t f : scene.forks_of[i]) {
        setting.forks[f].at_m = settled_place(setting.forks[f].at_m + by, scene.before.forks[f].at_m);
    }
    setting.seats[i].at_m = settled_place(at_m, scene.before.seats[i].at_m);
}

RodBlock body_block(const PlanScene& scene, const Setting& setting, std::size_t i) {
    Seat still = setting.seats[i];
    still.at_m = 0;
    const Pose pose = pose_in(*scene.items[i].item, still);
    const std::array<double, 2> extent = scene.items[i].silhouette->extent(pose);
    return {.from_m = extent[0],
            .to_m = extent[1],
            .at_m = setting.seats[i].at_m,
            .room_m = [&scene, i, pose](double at) {
                stop_if_asked(scene.stop);
                if (!scene.free) return std::numeric_limits<double>::infinity();
                return scene.items[i].silhouette->room(Eigen::Translation3d(at, 0, 0) * pose, *scene.free);
            }};
}

/// With the forks that hold it.
RodBlock block(const PlanScene& scene, const Setting& setting, std::size_t i) {
    RodBlock block = body_block(scene, setting, i);
    for (const std::size_t f : scene.forks_of[i]) {
        const Fork& fork = setting.forks[f];
        const double hub = fork.at_m - block.at_m;
        block.from_m = std::min(block.from_m, hub - limits::half_hub_m);
        block.to_m = std::max(block.to_m, hub + limits::half_hub_m);
        for (const Tine& tine : fork.tines) {
            block.from_m = std::min(block.from_m, tine_tip(fork, tine) - block.at_m);
            block.to_m = std::max(block.to_m, tine_tip(fork, tine) - block.at_m);
        }
    }
    if (!scene.free) return block;
    // What the forks sweep beside what the body does.
    std::vector<Fork> forks;
    for (const std::size_t f : scene.forks_of[i]) forks.push_back(setting.forks[f]);
    block.room_m = [&scene, forks, at_m = block.at_m, body = block.room_m](double at) {
        double room = body(at);
        for (const Fork& fork : forks) {
            for (const Tine& tine : fork.tines) {
                const double a = fork.at_m - at_m + at, b = tine_tip(fork, tine) - at_m + at;
                room = std::min(room, scene.free->least(std::min(a, b), std::max(a, b)) - tine.radius_m -
                                          tine.diameter_m / 2);
            }
        }
        return room;
    };
    return block;
}

/// By how much bodies stand out, into one another and into what they must clear, at their best stations;
/// m.
double misfit(const PlanScene& scene, const Setting& setting) {
    std::vector<RodBlock> blocks;
    for (const std::size_t i : along_the_rod(setting)) blocks.push_back(body_block(scene, setting, i));
    const StationsFound found =
        find_stations(blocks, {.usable_m = scene.assembly.rod.usable_m, .fire_m = {}});
    return found.overflow_m + std::max(0.0, -found.room_m);
}

}  // namespace

void set_stations(const PlanScene& scene, Setting& setting) {
    const std::vector<std::size_t> order = along_the_rod(setting);
    RodStretch stretch{.usable_m = scene.assembly.rod.usable_m,
                       .taken_m = {},
                       .fire_m = fire_stretch(scene.assembly.cooker)};
    for (const Counterweight& weight : setting.counterweights) {
        stretch.taken_m.push_back({weight.at_m - weight.diameter_m / 2, weight.at_m + weight.diameter_m / 2});
    }
    std::vector<RodBlock> blocks;
    blocks.reserve(order.size());
    for (const std::size_t i : order) blocks.push_back(block(scene, setting, i));
    const StationsFound found = find_stations(blocks, stretch);
    for (std::size_t k = 0; k < order.size(); ++k) move_block(scene, setting, order[k], found.at_m[k]);
}

void arrange(const PlanScene& scene, Setting& setting) {
    constexpr std::size_t most = 4;  // items; more are left in their order
    constexpr double enough_to_change_m = 0.002;
    const std::size_t n = scene.items.size();
    double least = misfit(scene, setting);
    if (least < enough_to_change_m || n > most) return;
    std::vector<double> stations;
    std::vector<std::size_t> order(n);
    for (std::size_t i = 0; i < n; ++i) {
        stations.push_back(setting.seats[i].at_m);
        order[i] = i;
    }
    std::sort(stations.begin(), stations.end());
    const Setting start = setting;
    do {
        for (unsigned flips = 0; flips < 1U << n; ++flips) {
            Setting here = start;
            double changed = 0;
            for (std::size_t k = 0; k < n; ++k) {
                const std::size_t i = order[k];
                move_block(scene, here, i, stations[k]);
                changed += stations[k] != start.seats[i].at_m ? 1 : 0;
                if ((flips >> i & 1U) == 0) continue;
                here.seats[i].facing = here.seats[i].facing == Facing::point ? Facing::drive : Facing::point;
                changed += 1;
            }
            const double found = misfit(scene, here) + enough_to_change_m * changed;
            if (found < least) {
                least = found;
                setting = here;
            }
        }
    } while (std::next_permutation(order.begin(), order.end()));
}

}  // namespace evenspit
