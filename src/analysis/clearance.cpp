// SPDX-License-Identifier: MIT
#include "analysis/clearance.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "analysis/analysis_memory.h"
#include "geometry/gap.h"
#include "load/arrangement.h"
#include "units/parallel.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

/// The item's pose but for its clock, on which no outline hangs: one that is turned on the rod is swept as it
/// was before.
Pose unturned_pose(const Item& item) {
    // Whoever sets a pose of its own knows what its seat does not.
    if (pose_in(item, item.seat).matrix() != item.pose.matrix()) return item.pose;
    Seat unturned = item.seat;
    unturned.turn_rad = 0;
    return pose_in(item, unturned);
}

}  // namespace

SweepTrees sweep_trees(const Assembly& load) {
    std::vector<const TriangleMesh*> meshes;
    for (const Item& item : load.items) {
        const body::Body& body = item.body->body;
        for (const body::Part& part : body.parts) {
            if (body::displaces(part)) meshes.push_back(&part.mesh);
        }
        for (const std::vector<body::SwungLimb>* limbs : {&body.swung, &body.if_undone}) {
            for (const body::SwungLimb& limb : *limbs) meshes.push_back(&limb.mesh);
        }
    }
    std::sort(meshes.begin(), meshes.end());
    meshes.erase(std::unique(meshes.begin(), meshes.end()), meshes.end());
    std::vector<std::optional<SweepTree>> grown(meshes.size());
    parallel_for(
        meshes.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t m = first; m < last; ++m) grown[m].emplace(*meshes[m]);
        },
        1);
    SweepTrees trees;
    for (std::size_t m = 0; m < meshes.size(); ++m) trees.emplace(meshes[m], std::move(*grown[m]));
    return trees;
}

SweptLoad swept_load(const Assembly& assembly, double step_m, const SweepTrees& trees,
                     AnalysisMemory* memory) {
    std::vector<SweptMesh> meshes;
    std::vector<SweptCylinder> cylinders;
    SweptLoad load;
    const auto part = [&load](const Thing& thing) {
        load.parts.push_back(thing);
        return static_cast<int>(load.parts.size()) - 1;
    };
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const Item& item = assembly.items[i];
        const Pose pose = unturned_pose(item);
        double nth = 0;  // of the item's meshes; which, hangs on whether its limbs are loose
        const auto add = [&](const TriangleMesh& mesh, int number) {
            const auto tree = trees.find(&mesh);
            SweptMesh& swept = meshes.emplace_back(SweptMesh{&mesh, pose, number, item.off.scale,
                                                             tree != trees.end() ? &tree->second : nullptr});
            if (!memory) return;
            const MemoryKey key =
                MemoryKey(item, pose).add(step_m).add(number).add(nth++).add(item.off.undone ? 1 : 0);
            swept.outline = &memory->outlines.value(key, [&] { return mesh_outline(swept, step_m); });
        };
        const int whole = part({Thing::Kind::item, i});
        for (const body::Part& displacing : item.body->body.parts) {
            if (body::displaces(displacing)) add(displacing.mesh, whole);
        }
        const std::vector<body::SwungLimb>& limbs = loose_limbs(item);
        for (std::size_t limb = 0; limb < limbs.size(); ++limb)
            add(limbs[limb].mesh, part({Thing::Kind::limb, i, limb}));
    }
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        const Fork& fork = assembly.forks[f];
        const int whole = part({Thing::Kind::fork, f});
        for (const Tine& tine : fork.tines) {
            const auto [from, to] = tine_stretch(fork, tine);
            cylinders.push_back({from, to, pin_reach(fork, tine), whole});
        }
        if (fork.kind == ForkKind::basket) {
            const auto [from, to] = fork_stretch(fork);
            cylinders.push_back({from, to, cage_reach_m(fork.cage), whole});
        }
    }
    for (std::size_t c = 0; c < assembly.counterweights.size(); ++c) {
        const Counterweight& weight = assembly.counterweights[c];
        cylinders.push_back({weight.at_m - weight.diameter_m / 2, weight.at_m + weight.diameter_m / 2,
                             weight.radius_m + weight.diameter_m / 2, part({Thing::Kind::counterweight, c})});
    }
    load.outline = sweep(meshes, cylinders, step_m);
    return load;
}

Clearance clearance(const Cooker& cooker, SweptLoad load, const Beam& beam, double accuracy_m,
                    const std::stop_token& stop) {
    Clearance result;
    result.outline = std::move(load.outline);
    result.parts = std::move(load.parts);
    for (const OutlinePiece& piece : result.outline.pieces) {
        const std::array<double, 2> start{piece.x0, piece.r0}, end{piece.x1, piece.r1};
        if (result.profile.empty() || result.profile.back() != start) result.profile.push_back(start);
        result.profile.push_back(end);
    }
    if (result.outline.empty() || cooker.surfaces.empty()) return result;
    const SaggedLoad sagged(
        result.outline, [&beam](double x) { return beam.quick_sag(x); }, accuracy_m, beam.most_curved());
    const double open_m = accuracy_m > finest_gap_m ? accuracy_m : 0;
    for (const CookerSurface& surface : cooker.surfaces) {
        stop_if_asked(stop);
        const Gap gap = sagged.gap_to(surface.shape);
        const double gap_m = gap.distance - surface.nearer_m - open_m;
        result.surfaces.push_back(
            {.name = surface.name,
             .gap_m = gap_m,
             .keep_m = surface.keep_m,
             .at_m = gap.at,
             .part = gap.part >= 0 ? result.parts[static_cast<std::size_t>(gap.part)] : Thing{},
             .on_load = gap.on_load,
             .on_surface = gap.on_surface,
             .fire = surface.fire});
        result.gap_min_m = std::min(gap_m, result.gap_min_m.value_or(gap_m));
    }
    return result;
}

}  // namespace evenspit
