// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "geometry/bvh.h"

namespace evenspit {
namespace {

// A half-line that boxes and triangles are asked about.
struct Ray {
    Vec3 start, direction, per_direction;

    Ray(const Vec3& from, const Vec3& along)
        : start(from), direction(along), per_direction(along.cwiseInverse()) {}

    // Distance to where it enters the box, 0 from inside; infinite if it misses.
    [[nodiscard]] double entry(const Box3& box) const {
        double in = 0, out = std::numeric_limits<double>::infinity();
        for (int axis = 0; axis < 3; ++axis) {
            const bool up = per_direction[axis] >= 0;
            const double low = ((up ? box.min() : box.max())[axis] - start[axis]) * per_direction[axis];
            const double high = ((up ? box.max() : box.min())[axis] - start[axis]) * per_direction[axis];
            // Along a face of the box, 0 × ∞ is no number: these comparisons pass it over.
            if (low > in) in = low;
            if (high < out) out = high;
        }
        // Rounding must not lose a triangle that lies in a face of its box.
        return in <= out * (1 + 1e-12) ? in : std::numeric_limits<double>::infinity();
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

ClosestPoint SolidQueries::first_hit(const Vec3& start, const Vec3& direction, double within) const {
    const Ray ray(start, direction);
    struct Waiting {
        double entry;
        std::int32_t node;
    };
    std::array<Waiting, deepest_path> stack{Waiting{ray.entry(nodes_[0].box), 0}};
    std::size_t height = 1;
    ClosestPoint best{.distance = within};
    while (height > 0) {
        const Waiting waiting = stack[--height];
        if (!(waiting.entry < best.distance)) continue;
        const Node& node = nodes_[std::size_t(waiting.node)];
        if (node.count == 0) {
            Waiting near{ray.entry(nodes_[std::size_t(node.first)].box), node.first};
            Waiting far{ray.entry(nodes_[std::size_t(node.first) + 1].box), node.first + 1};
            if (far.entry < near.entry) std::swap(near, far);
            if (far.entry < best.distance) stack[height++] = far;
            if (near.entry < best.distance) stack[height++] = near;
            continue;
        }
        for (std::int32_t i = node.first; i < node.first + node.count; ++i) {
            const std::int32_t t = order_[std::size_t(i)];
            const Triangle& triangle = mesh_.triangles[std::size_t(t)];
            const double at =
                ray.meets(mesh_.corner(triangle, 0), mesh_.corner(triangle, 1), mesh_.corner(triangle, 2));
            if (!(at < best.distance)) continue;
            best.distance = at;
            best.triangle = t;
        }
    }
    if (best.triangle >= 0) best.point = start + best.distance * direction;
    return best;
}

}  // namespace evenspit
