// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/region_name.h"

namespace evenspit::body {

/// What a named region is to those who compute; `other` for all that nobody asks for.
enum class RegionKind : std::uint8_t {
    other,
    breast,
    back,
    neck,
    tail,
    leg,  ///< thigh, drumstick or a four-legged animal's leg
    wing,
    cavity_wall,  ///< skin along a cavity, open or closed
    cut_face,     ///< of a joint; has no flesh of its own
    bone_end,     ///< of a joint; has no flesh of its own
};

/// A region of a body's surface and of the flesh beneath it.
struct Region {
    std::string name;  ///< "left thigh"; in files and tables
    RegionKind kind = RegionKind::other;
};

/// The kind that goes with a name, with or without "left" or "right" before it.
RegionKind region_kind(std::string_view name);

/// Regions of these names, each of the kind that goes with its name.
std::vector<Region> named_regions(const std::vector<std::string>& names);

/// The names, in order.
std::vector<std::string> region_names(const std::vector<Region>& regions);

/// By region, the index of the one with the same name on the other side, "left" for "right"; of one that has
/// no side, or none on the other, its own.
std::vector<std::uint8_t> mirrored_regions(const std::vector<Region>& regions);

/// Of the wall of a cavity.
inline constexpr std::string_view cavity_wall_name = cavity_wall_region;

}  // namespace evenspit::body
