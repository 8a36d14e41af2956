// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "body/body.h"
#include "body/bone_setter.h"
#include "body/mesher.h"
#include "body/region_layers.h"

namespace evenspit::body {

/// A body described by fields at some size of its own; grown_body() gives it the size that goes with its
/// weight.
struct BodyModel {
    std::string name;
    Field flesh;  ///< negative in flesh and bone
    Box3 box;     ///< holds all flesh, m
    std::vector<Bone> bones;
    /// What fills the open hollow from a share of its length to another, its breadth multiplied by `across` ≤
    /// 1, as a closed mesh; none if there is no hollow.
    std::function<TriangleMesh(double from, double to, double across)> cavity_piece;
    bool cavity_is_closed =
        false;  ///< `flesh` runs through the hollow, which is taken out as a part of its own
    std::vector<Region> region_table;
    std::function<std::uint8_t(const Vec3&)> region_on_surface;  ///< index into region_table
    /// As Lumps::layers(): of layers after one whose field is `full` or less none need be told.
    std::function<RegionLayers(const Vec3&, double full)> layers;
    /// By region, the one at a mirrored place; of a model whose fields and layers are the same on both sides
    /// of y = 0 to the last bit, so that half is counted. Else empty.
    std::vector<std::uint8_t> mirrored_regions;
    std::optional<Vec3> origin;  ///< becomes the item frame's origin; else the middle of the flesh's box
    std::vector<RegionMatter> matter;  ///< by region, of those that have flesh
    std::vector<SwungLimb> swung;      ///< at the model's size
    std::vector<SwungLimb> if_undone;  ///< at the model's size
};

/// A tape's measures over all, m. A measure that is left out follows so that the density is natural.
struct OverallSize {
    std::optional<double> length{}, width{}, depth{};  ///< along x, y, z
};

/// What size a body takes for its weight, and what lies in its cavity.
struct Growth {
    double mass_kg = 0;              ///< scale weight without contents, > 0
    double spacing_m = 0.0115;       ///< of the mesher, at the model's size
    std::optional<double> factor{};  ///< enlargement of the model; else that at which densities are natural
    OverallSize size{};              ///< stretches the model until it measures this
    double stuffing_kg = 0;
    std::optional<double> stuffing_density_kg_m3{};  ///< as it lies in the cavity; else as it is spooned in
    double giblets_kg = 0;
};

/// What stuffing can weigh, kg/m3: dry bread cubes with air between them to forcemeat without any. From
/// memory.
inline constexpr double least_stuffing_density = 200;
inline constexpr double greatest_stuffing_density = 1150;

/// The model meshed, enlarged, moved to its origin and weighed. Body::shares holds the parts' masses.
///
/// A size is met by stretching the model along its axes. Giblets lie at the far (+x) end of the cavity,
/// stuffing fills the rest as far as it goes: at the density given, else loosely, and pressed where there is
/// not room for that.
///
/// \throws InputError with key "stuffing" or "giblets" for more than the cavity holds; with key
/// "stuffing_density" for a density that no stuffing has; with key "length", "width" or "depth" for a
/// measure that nothing of this kind and weight has
Body grown_body(const BodyModel& model, const Growth& growth);

}  // namespace evenspit::body
