// SPDX-License-Identifier: MIT
#include "geometry/axis_distance.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <variant>

namespace evenspit {
namespace {

constexpr double nowhere = std::numeric_limits<double>::infinity();

/// Distance of a surface from the axis in the plane across it at one station.
struct AtStation {
    double x;

    double operator()(const PlaneShape& plane) const {
        const double across = plane.normal.tail<2>().norm();
        if (across < 1e-9) return nowhere;
        const double behind = (Vec3(x, 0, 0) - plane.point).dot(plane.normal);
        return std::max(0.0, behind / across);
    }
    double operator()(const BoxShape& box) const {
        if (x < box.min.x() || x > box.max.x()) return nowhere;
        const Vec2 nearest = Vec2::Zero().cwiseMax(box.min.tail<2>()).cwiseMin(box.max.tail<2>());
        return nearest.norm();
    }
    double operator()(const RevolvedShape& wall) const {
        constexpr int steps = 24;
        const double dx = x - wall.centre.x();
        double best = nowhere;
        for (std::size_t p = 1; p < wall.profile.size(); ++p) {
            for (int i = 0; i <= steps; ++i) {
                const Vec2 at =
                    wall.profile[p - 1] + (wall.profile[p] - wall.profile[p - 1]) * (double(i) / steps);
                const double left = at.x() * at.x() - dx * dx;
                if (left < 0) continue;
                const double z = wall.centre.z() + at.y();
                for (const double side : {-1.0, 1.0})
                    best = std::min(best, std::hypot(wall.centre.y() + side * std::sqrt(left), z));
            }
        }
        return best;
    }
    double operator()(const MeshShape& shape) const {
        double best = nowhere;
        for (const Triangle& t : shape.mesh->triangles) {
            std::array<Vec2, 3> cut;
            std::size_t count = 0;
            for (int k = 0; k < 3; ++k) {
                const Vec3 &a = shape.mesh->corner(t, k), &b = shape.mesh->corner(t, (k + 1) % 3);
                if ((a.x() <= x) == (b.x() <= x)) continue;
                const double share = (x - a.x()) / (b.x() - a.x());
                cut[count++] = (a + share * (b - a)).tail<2>();
            }
            if (count < 2) continue;
            const Vec2 run = cut[1] - cut[0];
            const double length2 = run.squaredNorm();
            const double share = length2 > 0 ? std::clamp(-cut[0].dot(run) / length2, 0.0, 1.0) : 0.0;
            best = std::min(best, (cut[0] + share * run).norm());
        }
        return best;
    }
};

}  // namespace

std::vector<Vec2> axis_distance(const SurfaceShape& shape, double from_m, double to_m, double step_m) {
    std::vector<Vec2> line;
    const auto steps = static_cast<int>(std::ceil((to_m - from_m) / step_m));
    for (int i = 0; i <= steps; ++i) {
        const double x = from_m + (to_m - from_m) * i / std::max(1, steps);
        const double distance = std::visit(AtStation{x}, shape);
        if (distance < nowhere) line.emplace_back(x, distance);
    }
    return line;
}

}  // namespace evenspit
