// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "geometry/bvh.h"

namespace evenspit {
namespace {

using Box2 = Eigen::AlignedBox2d;

constexpr double rounding = 1e-9;  // a share; more than it makes of any distance

double squared_distance_to_edge(const Vec2& p, const Vec2& a, const Vec2& b) {
    const Vec2 d = b - a;
    const double length2 = d.squaredNorm();
    const double t = length2 > 0 ? std::clamp((p - a).dot(d) / length2, 0.0, 1.0) : 0.0;
    return (p - a - t * d).squaredNorm();
}

/// Squared distance, seen along z, from a point to the piece of a triangle that lies between two stations;
/// infinite if none does.
double squared_side_distance(const Vec2& p, const std::array<Vec3, 3>& corners, double x0, double x1) {
    // Sutherland–Hodgman against the two planes; a triangle cut twice has five corners at most.
    std::array<Vec3, 8> polygon;
    std::copy(corners.begin(), corners.end(), polygon.begin());
    std::size_t count = 3;
    const auto [low, high] = std::minmax({corners[0].x(), corners[1].x(), corners[2].x()});
    for (const auto& [plane, sign] : {std::pair{x0, 1.0}, std::pair{x1, -1.0}}) {
        if (sign > 0 ? low >= plane : high <= plane) continue;  // all of it lies on the near side
        std::array<Vec3, 8> kept;
        std::size_t n = 0;
        for (std::size_t i = 0; i < count; ++i) {
            const Vec3 &a = polygon[i], &b = polygon[(i + 1) % count];
            const double da = sign * (a.x() - plane), db = sign * (b.x() - plane);
            if (da >= 0) kept[n++] = a;
            if ((da > 0 && db < 0) || (da < 0 && db > 0)) kept[n++] = a + (b - a) * (da / (da - db));
        }
        std::copy(kept.begin(), kept.begin() + static_cast<std::ptrdiff_t>(n), polygon.begin());
        count = n;
    }
    double best = std::numeric_limits<double>::infinity();
    bool left = count >= 3, right = count >= 3;
    for (std::size_t i = 0; i < count; ++i) {
        const Vec2 a = polygon[i].tail<2>(), b = polygon[(i + 1) % count].tail<2>();
        best = std::min(best, squared_distance_to_edge(p, a, b));
        const double side = (b - a).x() * (p - a).y() - (b - a).y() * (p - a).x();
        left = left && side >= 0;
        right = right && side <= 0;
    }
    // Inside the polygon's shadow: the pin itself runs through the skin there.
    return left != right ? 0 : best;
}

/// A frame whose x axis is the line.
struct LineFrame {
    Vec3 start;
    Mat3 axes;  // rows: along, and two across

    LineFrame(const Vec3& from, const Vec3& direction) : start(from) {
        const Vec3 across = direction.unitOrthogonal();
        axes.row(0) = direction;
        axes.row(1) = across;
        axes.row(2) = direction.cross(across);
    }

    [[nodiscard]] Vec3 see(const Vec3& p) const { return axes * (p - start); }

    /// The box's extents in this frame.
    [[nodiscard]] Box3 see(const Box3& box) const {
        const Vec3 middle = see(Vec3(box.center())), half = axes.cwiseAbs() * (box.sizes() / 2);
        return {middle - half, middle + half};
    }
};

}  // namespace

double SolidQueries::distance_beside(const Vec3& start, const Vec3& direction, double from, double to) const {
    const LineFrame frame(start, direction);
    double best = std::numeric_limits<double>::infinity();
    struct Waiting {
        double square = 0;  // of the box's distance across; infinite where nothing counts
        std::int32_t node = 0;
    };
    const auto waiting = [&](std::int32_t node) -> Waiting {
        if (!nodes_[std::size_t(node)].outer) return {std::numeric_limits<double>::infinity(), node};
        const Box3 box = frame.see(nodes_[std::size_t(node)].box);
        if (box.max().x() < from || box.min().x() > to)
            return {std::numeric_limits<double>::infinity(), node};
        return {Box2(box.min().tail<2>(), box.max().tail<2>()).squaredExteriorDistance(Vec2::Zero()), node};
    };
    std::vector<Waiting> stack{waiting(0)};
    while (!stack.empty()) {
        const Waiting next = stack.back();
        stack.pop_back();
        if (next.square >= best) continue;
        const Node& node = nodes_[std::size_t(next.node)];
        if (node.count == 0) {
            Waiting near = waiting(node.first), far = waiting(node.first + 1);
            if (far.square < near.square) std::swap(near, far);
            stack.push_back(far);
            stack.push_back(near);
            continue;
        }
        for (std::int32_t i = node.first; i < node.first + node.count; ++i) {
            const std::int32_t t = order_[std::size_t(i)];
            if (is_inner(t)) continue;
            const Triangle& triangle = mesh_.triangles[std::size_t(t)];
            const std::array<Vec3, 3> c{frame.see(mesh_.corner(triangle, 0)),
                                        frame.see(mesh_.corner(triangle, 1)),
                                        frame.see(mesh_.corner(triangle, 2))};
            if (std::max({c[0].x(), c[1].x(), c[2].x()}) < from ||
                std::min({c[0].x(), c[1].x(), c[2].x()}) > to)
                continue;
            // Nor can what lies wholly to one side be nearer than that side.
            const auto apart = [&c](Eigen::Index k) {
                return std::max(
                    {0.0, std::min({c[0][k], c[1][k], c[2][k]}), -std::max({c[0][k], c[1][k], c[2][k]})});
            };
            const double y = apart(1), z = apart(2);
            if (y * y + z * z > best * (1 + rounding)) continue;
            best = std::min(best, squared_side_distance(Vec2::Zero(), c, from, to));
        }
    }
    return std::sqrt(best);
}

Interval SolidQueries::extent(const Vec3& direction) const {
    const auto furthest = [&](const Vec3& way) {
        double best = -std::numeric_limits<double>::infinity();
        const auto bound = [&](std::int32_t node) {
            const Box3& box = nodes_[std::size_t(node)].box;
            return way.dot(Vec3(box.center())) + way.cwiseAbs().dot(Vec3(box.sizes())) / 2;
        };
        std::vector<std::int32_t> stack{0};
        while (!stack.empty()) {
            const std::int32_t next = stack.back();
            stack.pop_back();
            const Node& node = nodes_[std::size_t(next)];
            if (bound(next) <= best) continue;
            if (node.count == 0) {
                const bool left_first = bound(node.first) >= bound(node.first + 1);
                stack.push_back(left_first ? node.first + 1 : node.first);
                stack.push_back(left_first ? node.first : node.first + 1);
                continue;
            }
            for (std::int32_t i = node.first; i < node.first + node.count; ++i) {
                const Triangle& triangle = mesh_.triangles[std::size_t(order_[std::size_t(i)])];
                for (int corner = 0; corner < 3; ++corner)
                    best = std::max(best, way.dot(mesh_.corner(triangle, corner)));
            }
        }
        return best;
    };
    return {-furthest(-direction), furthest(direction)};
}

}  // namespace evenspit
