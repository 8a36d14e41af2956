// SPDX-License-Identifier: MIT
#include "analysis/clearance.h"

#include <algorithm>

#include "geometry/gap.h"
#include "units/stopped.h"

namespace evenspit {

SweptItemParts displacing_parts(const Body& body) {
    SweptItemParts parts;
    for (const Part& part : body.parts) {
        if (displaces(part)) parts.push_back(&part.mesh);
    }
    return parts;
}

SweptLoad swept_load(const Assembly& assembly) {
    std::vector<SweptItemParts> items;
    items.reserve(assembly.items.size());
    for (const Item& item : assembly.items) items.push_back(displacing_parts(item.body->body));
    return swept_load(assembly, items);
}

SweptLoad swept_load(const Assembly& assembly, const std::vector<SweptItemParts>& items, double step_m) {
    std::vector<SweptMesh> meshes;
    std::vector<SweptCylinder> cylinders;
    SweptLoad load;
    const auto part = [&load](const Thing& thing) {
        load.parts.push_back(thing);
        return static_cast<int>(load.parts.size()) - 1;
    };
    for (std::size_t i = 0; i < items.size(); ++i) {
        const Item& item = assembly.items[i];
        const auto add = [&](const TriangleMesh& mesh, int number) {
            meshes.push_back({&mesh, item.pose, number, item.off.scale});
        };
        const int whole = part({Thing::Kind::item, i});
        for (const TriangleMesh* mesh : items[i]) add(*mesh, whole);
        const std::vector<SwungLimb>& limbs = loose_limbs(item);
        for (std::size_t limb = 0; limb < limbs.size(); ++limb)
            add(limbs[limb].mesh, part({Thing::Kind::limb, i, limb}));
    }
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        const Fork& fork = assembly.forks[f];
        const int whole = part({Thing::Kind::fork, f});
        for (const Tine& tine : fork.tines) {
            const auto [from, to] = tine_stretch(fork, tine);
            cylinders.push_back({from, to, tine.radius_m + tine.diameter_m / 2, whole});
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
        result.outline, [&beam](double x) { return beam.sag(x); }, accuracy_m);
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
