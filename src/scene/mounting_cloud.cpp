// SPDX-License-Identifier: MIT
#include "scene/mounting_cloud.h"

#include <algorithm>
#include <cmath>

#include "analysis/chance.h"
#include "analysis/figures.h"
#include "analysis/mountings.h"
#include "analysis/placed.h"
#include "analysis/roll_belief.h"
#include "units/stopped.h"

namespace evenspit::scene {
namespace {

/// Where a place on the rod of a mounted load lies in the item as it is drawn.
Vec3 seen_in_drawn(const Item& mounted, const Item& drawn, double station_m) {
    const Vec3 own = mounted.pose.inverse() * Vec3(station_m, 0, 0) / mounted.off.scale;
    return drawn.pose * own;
}

RodRun rod_run(const Item& mounted, const Item& drawn, std::size_t item) {
    const auto [from, to] = stretch_on_rod(mounted);
    RodRun run{item, seen_in_drawn(mounted, drawn, from), seen_in_drawn(mounted, drawn, to), 0};
    for (const Vec3& end : {run.from, run.to}) run.off_m = std::max(run.off_m, std::hypot(end.y(), end.z()));
    return run;
}

}  // namespace

std::vector<DrawnMounting> mounting_cloud(const Assembly& assembly, std::size_t count,
                                          const std::stop_token& stop) {
    const Mountings mountings = believed_mountings(assembly, count);
    const SweepTrees trees = sweep_trees(assembly);
    std::vector<DrawnMounting> cloud;
    Assembly work = assembly;
    for (std::size_t k = 0; k < mountings.count(); ++k) {
        stop_if_asked(stop);
        mountings.mount(work, k);
        const Analysis now = figures(
            work, [&](const Assembly& load) { return swept_load(load, mounting_step_m, trees); },
            Detail::trial, stop);
        DrawnMounting drawn;
        for (std::size_t i = 0; i < assembly.items.size(); ++i)
            drawn.rods.push_back(rod_run(work.items[i], assembly.items[i], i));
        const Balance& balance = now.balance;
        if (balance.mass_kg > 0) {
            const Vec2 off = balance.unbalance_kg_m / balance.mass_kg;
            drawn.centre = Vec3(balance.centre_x_m, off.x(), off.y());
        }
        for (const Finding& finding : now.findings) {
            if (!is_seen_by_hand(finding.code)) drawn.verdict = std::max(drawn.verdict, finding.level);
        }
        cloud.push_back(std::move(drawn));
    }
    return cloud;
}

}  // namespace evenspit::scene
