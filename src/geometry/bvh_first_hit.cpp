// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "geometry/bvh.h"
#include "geometry/bvh_rows.h"
#include "units/wide.h"

namespace evenspit {
namespace {

// A half-line that boxes and triangles are asked about.
struct Ray {
    Vec3 start, direction;
    std::array<float, 3> per_direction, slack;  // slack: of the ways below, by axis

    // \param box of all that is asked about
    Ray(const Vec3& from, const Vec3& along, const Box3& box) : start(from), direction(along) {
        for (std::size_t axis = 0; axis < 3; ++axis) {
            per_direction[axis] = float(1 / along[Eigen::Index(axis)]);
            slack[axis] = float(rows::slack_m(box, from)) * std::abs(per_direction[axis]);
        }
    }

    // Distance to where it enters each box of a node, never more than it is, 0 from inside; infinite if it
    // misses.
    [[gnu::always_inline]] void entries(const BvhNode& node, rows::Floats& found) const {
        constexpr float never = std::numeric_limits<float>::infinity();
        rows::Floats in{}, out = rows::Floats{} + never;
        for (std::size_t axis = 0; axis < 3; ++axis) {
            const auto from_here = float(start[Eigen::Index(axis)]);
            const bool up = per_direction[axis] >= 0;
            const rows::Floats low =
                (rows::row((up ? node.low : node.high)[axis]) - from_here) * per_direction[axis] -
                slack[axis];
            const rows::Floats high =
                (rows::row((up ? node.high : node.low)[axis]) - from_here) * per_direction[axis] +
                slack[axis];
            // Along a face of the box, 0 × ∞ is no number: these comparisons pass it over.
            in = low > in ? low : in;
            out = high < out ? high : out;
        }
        // Rounding must not lose a triangle that lies in a face of its box.
        in *= rows::surely;
        found = in * rows::surely <= out ? in : rows::Floats{} + never;
    }

    // Distance to the triangle, infinite if it misses. After T. Möller, B. Trumbore, "Fast, minimum storage
    // ray/triangle intersection", J. Graphics Tools 2(1):21–28, 1997; edges belong to both sides.
    [[nodiscard]] double meets(const Vec3& a, const Vec3& b, const Vec3& c) const {
        constexpr double miss = std::numeric_limits<double>::infinity();
        constexpr double edge = -1e-12;
        const Vec3 ab = b - a, ac = c - a;
        const Vec3 p = direction.cross(ac);
        const double determinant = ab.dot(p);
        if (determinant == 0) return miss;
        const Vec3 from_a = start - a;
        const double u = from_a.dot(p) / determinant;
        if (!(u >= edge && u <= 1 - edge)) return miss;
        const Vec3 q = from_a.cross(ab);
        const double v = direction.dot(q) / determinant;
        if (!(v >= edge && u + v <= 1 - edge)) return miss;
        const double at = ac.dot(q) / determinant;
        return at > 0 ? at : miss;
    }
};

}  // namespace

EVENSPIT_WIDE ClosestPoint SolidQueries::first_hit(const Vec3& start, const Vec3& direction,
                                                   double within) const {
    const Ray ray(start, direction, box_);
    ClosestPoint best{.distance = within};
    rows::nearest_first<most_waiting>(
        nodes_, 0,
        [&](const BvhNode& node, rows::Floats& entries) EVENSPIT_INLINED { ray.entries(node, entries); },
        [&]() EVENSPIT_INLINED { return best.distance; },
        [&](std::size_t first, std::size_t last) EVENSPIT_INLINED {
            for (std::size_t i = first; i < last; ++i) {
                const Triangle& triangle = corners_[i];
                const double at = ray.meets(mesh_.corner(triangle, 0), mesh_.corner(triangle, 1),
                                            mesh_.corner(triangle, 2));
                if (!(at < best.distance)) continue;
                best.distance = at;
                best.triangle = order_[i];
            }
        });
    if (best.triangle >= 0) best.point = start + best.distance * direction;
    return best;
}

}  // namespace evenspit
