// SPDX-License-Identifier: MIT
#include "rig/plane_room.h"

#include <algorithm>
#include <cmath>
#include <variant>

#include "rig/plane_face.h"

namespace evenspit {
namespace {

/// A room that reaches further from the rod than this is no cooker.
constexpr double far_m = 5;

/// A plane that bounds the room, whose free side holds the middle of the fire on the rod.
struct Side {
    PlaneShape plane;
    std::size_t surface = 0;
};

double plane_area_m2(const std::vector<Vec3>& polygon) {
    Vec3 twice = Vec3::Zero();
    for (std::size_t k = 1; k + 1 < polygon.size(); ++k)
        twice += (polygon[k] - polygon[0]).cross(polygon[k + 1] - polygon[0]);
    return twice.norm() / 2;
}

double area_on(std::size_t n, const std::vector<Side>& sides, const Vec3& middle) {
    std::vector<Vec3> polygon = square_on(sides[n].plane, middle, 10 * far_m);  // past everything
    for (std::size_t k = 0; k < sides.size() && !polygon.empty(); ++k) {
        if (k != n) polygon = part_before(polygon, sides[k].plane);
    }
    return plane_area_m2(polygon);
}

struct FirePlace {
    double from_m = 0, to_m = 0, foot_m = 0;
};

/// Of the boxes that burn.
std::optional<FirePlace> fire_place(const Cooker& cooker) {
    std::optional<FirePlace> place;
    for (const CookerSurface& surface : cooker.surfaces) {
        const auto* const box = std::get_if<BoxShape>(&surface.shape);
        if (!surface.fire || box == nullptr) continue;
        if (!place) place = FirePlace{box->min.x(), box->max.x(), box->min.z()};
        place->from_m = std::min(place->from_m, box->min.x());
        place->to_m = std::max(place->to_m, box->max.x());
        place->foot_m = std::min(place->foot_m, box->min.z());
    }
    return place;
}

}  // namespace

std::optional<PlaneRoom> plane_room(const Cooker& cooker) {
    const std::optional<FirePlace> fire = fire_place(cooker);
    if (!fire) return std::nullopt;
    const Vec3 middle((fire->from_m + fire->to_m) / 2, 0, 0);
    std::vector<Side> sides;
    for (std::size_t s = 0; s < cooker.surfaces.size(); ++s) {
        const auto* const plane = std::get_if<PlaneShape>(&cooker.surfaces[s].shape);
        if (plane != nullptr && !cooker.surfaces[s].fire && before_plane_m(*plane, middle) > 0)
            sides.push_back({*plane, s});
    }
    const std::size_t none = cooker.surfaces.size();
    const std::size_t walls = sides.size();
    // The ground lies at the fire's foot, or below a floor that is drawn, where it bounds nothing.
    const double ground_m = std::min(fire->foot_m, 0.0);
    sides.push_back({{Vec3(0, 0, ground_m), Vec3::UnitZ()}, none});
    const std::size_t ground = sides.size() - 1;
    for (const Vec3& out : {Vec3(1, 0, 0), Vec3(-1, 0, 0), Vec3(0, 1, 0), Vec3(0, -1, 0), Vec3(0, 0, 1)})
        sides.push_back({{middle + far_m * out, -out}, none});
    for (std::size_t n = ground + 1; n < sides.size(); ++n) {
        if (area_on(n, sides, middle) > 0) return std::nullopt;
    }
    PlaneRoom room{.area_m2 = std::vector<double>(cooker.surfaces.size(), 0)};
    for (std::size_t n = 0; n < walls; ++n) room.area_m2[sides[n].surface] = area_on(n, sides, middle);
    room.floor_m2 = area_on(ground, sides, middle);
    return room;
}

HeatHolders heat_holders(const Cooker& cooker) {
    HeatHolders holders;
    for (std::size_t s = 0; s < cooker.surfaces.size(); ++s) {
        const CookerSurface& surface = cooker.surfaces[s];
        const bool wall = std::holds_alternative<RevolvedShape>(surface.shape) ||
                          std::holds_alternative<MeshShape>(surface.shape);
        if (wall && !surface.fire) holders.walls.push_back(s);
    }
    if (holders.walls.empty()) holders.planes = plane_room(cooker);
    return holders;
}

bool burns_in_the_open(const Cooker& cooker) {
    const bool burns = std::any_of(cooker.surfaces.begin(), cooker.surfaces.end(),
                                   [](const CookerSurface& surface) { return surface.fire; });
    return burns && !heat_holders(cooker).any();
}

}  // namespace evenspit
