// SPDX-License-Identifier: MIT
#include "rig/plane_face.h"

#include <variant>

namespace evenspit {

double before_plane_m(const PlaneShape& plane, const Vec3& place) {
    return plane.normal.dot(place - plane.point);
}

std::vector<Vec3> square_on(const PlaneShape& plane, const Vec3& middle, double reach_m) {
    const Vec3 foot = middle - before_plane_m(plane, middle) * plane.normal;
    const Vec3 u = plane.normal.unitOrthogonal(), v = plane.normal.cross(u);
    return {foot + reach_m * (-u - v), foot + reach_m * (u - v), foot + reach_m * (u + v),
            foot + reach_m * (-u + v)};
}

std::vector<Vec3> part_before(const std::vector<Vec3>& polygon, const PlaneShape& plane) {
    std::vector<Vec3> kept;
    for (std::size_t k = 0; k < polygon.size(); ++k) {
        const Vec3 &a = polygon[k], &b = polygon[(k + 1) % polygon.size()];
        const double at_a = before_plane_m(plane, a), at_b = before_plane_m(plane, b);
        if (at_a >= 0) kept.push_back(a);
        if ((at_a > 0 && at_b < 0) || (at_a < 0 && at_b > 0))
            kept.push_back(a + at_a / (at_a - at_b) * (b - a));
    }
    return kept;
}

std::vector<Vec3> plane_face(const Cooker& cooker, std::size_t surface, const Vec3& middle, double reach_m) {
    const auto& own = std::get<PlaneShape>(cooker.surfaces[surface].shape);
    std::vector<Vec3> polygon = square_on(own, middle, reach_m);
    for (std::size_t s = 0; s < cooker.surfaces.size(); ++s) {
        const auto* const other = std::get_if<PlaneShape>(&cooker.surfaces[s].shape);
        if (s == surface || other == nullptr || before_plane_m(*other, middle) <= 0) continue;
        polygon = part_before(polygon, *other);
    }
    return polygon;
}

}  // namespace evenspit
