// SPDX-License-Identifier: MIT
#include "analysis/clearance.h"

#include <algorithm>

#include "geometry/gap.h"
#include "units/stopped.h"

namespace evenspit {

SweptLoad swept_load(const Assembly& assembly, const std::vector<PlacedItem>& placed) {
    std::vector<SweptMesh> meshes;
    std::vector<SweptCylinder> cylinders;
    SweptLoad load;
    const auto part = [&load](const Thing& thing) {
        load.parts.push_back(thing);
        return static_cast<int>(load.parts.size()) - 1;
    };
    for (std::size_t i = 0; i < placed.size(); ++i) {
        const Body& body = assembly.items[i].body->body;
        const int whole = part({Thing::Kind::item, i});
        for (std::size_t p = 0; p < body.parts.size(); ++p) {
            if (body.parts[p].parent >= 0 || body.parts[p].kind == PartKind::cavity) continue;
            meshes.push_back({&placed[i].parts[p], Pose::Identity(), whole});
        }
        for (std::size_t limb = 0; limb < body.swung.size(); ++limb) {
            meshes.push_back({&placed[i].swung[limb], Pose::Identity(), part({Thing::Kind::limb, i, limb})});
        }
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
    load.outline = sweep(meshes, cylinders);
    return load;
}

Clearance clearance(const Cooker& cooker, SweptLoad load, const Beam& beam, const std::stop_token& stop) {
    Clearance result;
    result.outline = std::move(load.outline);
    result.parts = std::move(load.parts);
    for (const OutlinePiece& piece : result.outline.pieces) {
        const std::array<double, 2> start{piece.x0, piece.r0}, end{piece.x1, piece.r1};
        if (result.profile.empty() || result.profile.back() != start) result.profile.push_back(start);
        result.profile.push_back(end);
    }
    if (result.outline.empty()) return result;
    for (const CookerSurface& surface : cooker.surfaces) {
        stop_if_asked(stop);
        const Gap gap = nearest_gap(
            result.outline, [&beam](double x) { return beam.sag(x); }, surface.shape);
        result.surfaces.push_back(
            {.name = surface.name,
             .gap_m = gap.distance,
             .keep_m = surface.keep_m,
             .at_m = gap.at,
             .part = gap.part >= 0 ? result.parts[static_cast<std::size_t>(gap.part)] : Thing{},
             .on_load = gap.on_load,
             .on_surface = gap.on_surface,
             .fire = surface.fire});
        result.gap_min_m = std::min(gap.distance, result.gap_min_m.value_or(gap.distance));
    }
    return result;
}

}  // namespace evenspit
