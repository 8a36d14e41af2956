// SPDX-License-Identifier: MIT
#include "analysis/clearance.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "geometry/gap.h"
#include "units/parallel.h"
#include "units/stopped.h"

namespace evenspit {

SweepTrees sweep_trees(const std::vector<Assembly>& loads, double step_m) {
    // What each mesh is swept in, in order.
    std::vector<std::pair<const TriangleMesh*, std::vector<const Item*>>> swept;
    for (const Assembly& load : loads) {
        for (const Item& item : load.items) {
            const auto add = [&](const TriangleMesh& mesh) {
                auto at = std::find_if(swept.begin(), swept.end(),
                                       [&](const auto& known) { return known.first == &mesh; });
                if (at == swept.end()) at = swept.insert(at, {&mesh, {}});
                at->second.push_back(&item);
            };
            const body::Body& body = item.body->body;
            for (const body::Part& part : body.parts) {
                if (body::displaces(part)) add(part.mesh);
            }
            for (const std::vector<body::SwungLimb>* limbs : {&body.swung, &body.if_undone}) {
                for (const body::SwungLimb& limb : *limbs) add(limb.mesh);
            }
        }
    }
    std::vector<std::optional<SweepTree>> grown(swept.size());
    parallel_for(
        swept.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t m = first; m < last; ++m) {
                SweepTree& tree = grown[m].emplace(*swept[m].first);
                std::vector<SweepTree::Placing> placings;
                for (const Item* item : swept[m].second) placings.push_back({item->pose, item->off.scale});
                tree.begin_as_in(placings, step_m);
            }
        },
        1);
    SweepTrees trees;
    for (std::size_t m = 0; m < swept.size(); ++m) trees.emplace(swept[m].first, std::move(*grown[m]));
    return trees;
}

SweptLoad swept_load(const Assembly& assembly, double step_m, const SweepTrees& trees) {
    std::vector<SweptMesh> meshes;
    std::vector<SweptCylinder> cylinders;
    SweptLoad load;
    const auto part = [&load](const Thing& thing) {
        load.parts.push_back(thing);
        return static_cast<int>(load.parts.size()) - 1;
    };
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const Item& item = assembly.items[i];
        const auto add = [&](const TriangleMesh& mesh, int number) {
            const auto tree = trees.find(&mesh);
            meshes.push_back(
                {&mesh, item.pose, number, item.off.scale, tree != trees.end() ? &tree->second : nullptr});
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
        result.outline, [&beam](double x) { return beam.sag(x); }, accuracy_m, beam.most_curved());
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
