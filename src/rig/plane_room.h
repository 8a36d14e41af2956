// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "rig/rig.h"

namespace evenspit {

/// The room that a cooker's plane walls shut in.
struct PlaneRoom {
    std::vector<double>
        area_m2;          ///< by surface of the cooker: of the part that bounds the room; 0: none does
    double floor_m2 = 0;  ///< of a floor that no surface draws: the ground that the fire lies on
};

/// The room round the rod over the fire, if planes that are no fire bound it to all sides and above. Where
/// none does below, the ground does, at the foot of the fire. Absent: it is open somewhere, or there is no
/// fire.
///
/// Convex polygons, each plane's clipped by all other planes (Sutherland and Hodgman 1974).
std::optional<PlaneRoom> plane_room(const Cooker& cooker);

/// What of a cooker holds the heat of its fire.
struct HeatHolders {
    std::vector<std::size_t> walls;   ///< its surfaces that are round or scanned walls, no fire
    std::optional<PlaneRoom> planes;  ///< where there are no such walls: what planes shut in, if they do
    [[nodiscard]] bool any() const { return !walls.empty() || planes; }
};

/// The one answer to which surfaces hold heat. Boxes, and planes beside walls, are ground and furniture.
HeatHolders heat_holders(const Cooker& cooker);

/// Whether it has a fire and nothing that holds its heat.
bool burns_in_the_open(const Cooker& cooker);

}  // namespace evenspit
