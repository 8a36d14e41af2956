// SPDX-License-Identifier: MIT
#include "analysis/clearance.h"

#include <algorithm>

#include "geometry/gap.h"
#include "units/stopped.h"

namespace evenspit {

Outline swept_outline(const Assembly& assembly, const std::vector<PlacedItem>& placed) {
    std::vector<SweptMesh> meshes;
    std::vector<SweptCylinder> cylinders;
    for (std::size_t i = 0; i < placed.size(); ++i) {
        const Body& body = assembly.items[i].body->body;
        for (std::size_t part = 0; part < body.parts.size(); ++part) {
            if (body.parts[part].parent >= 0 || body.parts[part].kind == PartKind::cavity) continue;
            meshes.push_back({&placed[i].parts[part], Pose::Identity(), assembly.items[i].name});
        }
        for (std::size_t limb = 0; limb < body.swung.size(); ++limb) {
            meshes.push_back(
                {&placed[i].swung[limb], Pose::Identity(), swung_name(assembly.items[i], body.swung[limb])});
        }
    }
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        const Fork& fork = assembly.forks[f];
        for (const Tine& tine : fork.tines) {
            const auto [from, to] = tine_stretch(fork, tine);
            cylinders.push_back({from, to, tine.radius_m + tine.diameter_m / 2, fork_name(f)});
        }
    }
    for (std::size_t c = 0; c < assembly.counterweights.size(); ++c) {
        const Counterweight& weight = assembly.counterweights[c];
        cylinders.push_back({weight.at_m - weight.diameter_m / 2, weight.at_m + weight.diameter_m / 2,
                             weight.radius_m + weight.diameter_m / 2, counterweight_name(c)});
    }
    return sweep(meshes, cylinders);
}

Clearance clearance(const Cooker& cooker, Outline outline, const Beam& beam, const std::stop_token& stop) {
    Clearance result;
    result.outline = std::move(outline);
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
             .part = gap.part >= 0 ? result.outline.parts[static_cast<std::size_t>(gap.part)] : "",
             .on_load = gap.on_load,
             .on_surface = gap.on_surface,
             .fire = surface.fire});
        result.gap_min_m = std::min(gap.distance, result.gap_min_m.value_or(gap.distance));
    }
    return result;
}

}  // namespace evenspit
