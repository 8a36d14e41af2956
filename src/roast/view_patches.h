// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "load/assembly.h"

namespace evenspit {

/// A piece of skin whose triangles lie close together and look about the same way.
struct SkinPatch {
    std::size_t item = 0;
    std::size_t part = 0;        ///< index into Body::parts
    bool in_cavity = false;      ///< along the wall of the item's cavity
    double area_m2 = 0;          ///< 0 for a patch of triangles without area
    Vec3 centre = Vec3::Zero();  ///< weighted with area; rod frame, m
    Vec3 normal = Vec3::Zero();  ///< mean of its triangles', outward; rod frame, unit length (0: no area)
    std::vector<std::int32_t> triangles;
};

/// The skin of all items, cut into patches: the surface of each part that displaces (of a body: its flesh,
/// and stuffing in an open cavity).
struct SkinPatches {
    std::vector<SkinPatch> patches;  ///< by item, then by part
    /// By item, then part, then triangle: its patch, an index into `patches`. Empty for parts that are not
    /// skin.
    std::vector<std::vector<std::vector<std::int32_t>>> patch_of_triangle;

    /// Area of an item's skin, m2, cavity walls left out.
    [[nodiscard]] double outer_area_m2(std::size_t item) const;
};

/// Cuts the skin in halves, across the longest side or the widest spread of normals, until no patch's
/// triangles have centroids further apart than `size_m` along any axis or normals that differ by more than
/// 0.6 (about 35°) along any axis. Patches do not cross from a cavity's wall to what is outside.
///
/// \param size_m > 0 \throws std::invalid_argument otherwise
SkinPatches skin_patches(const Assembly& assembly, double size_m);

}  // namespace evenspit
