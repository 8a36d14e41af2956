// SPDX-License-Identifier: MIT
#include "geometry/wall_gap.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>
#include <optional>
#include <queue>
#include <stdexcept>
#include <vector>

namespace evenspit {

namespace {

constexpr double evaluations_per_doubling = 100'000;
constexpr double doubled_from = 0.02;  // of the tolerance: it gives way only after more than five doublings
constexpr double least_patch = 1e-11;  // m; a smaller one is a point
constexpr double steepest = 1e3;       // radius over station; a steeper mantle is taken as a step

double cross(const Vec2& a, const Vec2& b) {
    return a.x() * b.y() - a.y() * b.x();
}

// A wall gives the search patches to begin with, and of each patch: a point in its middle, the least w·p over
// it, its size, its halves, whether its points belong to the surface or only enclose it, and a point of the
// wall at a station.

/// The bands between the points of a revolved wall's profile.
class RevolvedWall {
  public:
    /// Part of a band: from one (radius, height) to another, between two directions less than half a turn
    /// apart.
    struct Patch {
        Vec2 start, end;
        Vec2 from, to;
        Vec2 half;  ///< the direction between both
    };

    explicit RevolvedWall(const RevolvedShape& shape) : centre_(shape.centre) {
        if (shape.profile.size() < 2) {
            throw std::invalid_argument("nearest_gap: a revolved wall needs at least two points");
        }
        for (const Vec2& point : shape.profile) {
            if (!point.allFinite() || point.x() < 0) {
                throw std::invalid_argument(
                    "nearest_gap: a revolved wall's radii must be finite and not negative");
            }
        }
        constexpr int sectors = 8;
        std::array<Vec2, sectors + 1> directions;
        for (int i = 0; i < sectors; ++i) {
            const double angle = 2 * std::numbers::pi * i / sectors;
            directions[static_cast<std::size_t>(i)] = {std::cos(angle), std::sin(angle)};
        }
        directions[sectors] = directions[0];
        for (std::size_t k = 0; k + 1 < shape.profile.size(); ++k) {
            for (std::size_t i = 0; i < sectors; ++i) {
                roots_.push_back({shape.profile[k], shape.profile[k + 1], directions[i], directions[i + 1],
                                  halfway(directions[i], directions[i + 1])});
            }
        }
    }

    [[nodiscard]] const std::vector<Patch>& roots() const { return roots_; }

    [[nodiscard]] static bool on_surface(const Patch&) { return true; }

    [[nodiscard]] Vec3 middle(const Patch& patch) const {
        const Vec2 point = 0.5 * (patch.start + patch.end);
        return centre_ + Vec3(point.x() * patch.half.x(), point.x() * patch.half.y(), point.y());
    }

    [[nodiscard]] double least(const Patch& patch, const Vec3& w) const {
        // For each direction linear along the profile, so least at one of its ends; along an arc least
        // opposite to w, or at an end of the arc.
        const Vec2 level = w.head<2>();
        const bool opposite = cross(patch.from, -level) >= 0 && cross(-level, patch.to) >= 0;
        const double across = opposite ? -level.norm() : std::min(level.dot(patch.from), level.dot(patch.to));
        return w.dot(centre_) + std::min(across * patch.start.x() + w.z() * patch.start.y(),
                                         across * patch.end.x() + w.z() * patch.end.y());
    }

    /// Across the wall at the patch's middle, of unit length or zero.
    [[nodiscard]] static Vec3 normal(const Patch& patch) {
        const Vec2 profile = (patch.end - patch.start).normalized();
        return {profile.y() * patch.half.x(), profile.y() * patch.half.y(), -profile.x()};
    }

    [[nodiscard]] static double size(const Patch& patch) {
        return std::max(profile_size(patch), arc_size(patch));
    }

    template <class Take>
    void halve(const Patch& patch, Take&& take) const {
        Patch a = patch, b = patch;
        if (profile_size(patch) > arc_size(patch)) {
            a.end = b.start = 0.5 * (patch.start + patch.end);
        } else {
            a.to = b.from = patch.half;
            a.half = halfway(a.from, a.to);
            b.half = halfway(b.from, b.to);
        }
        take(a);
        take(b);
    }

    /// A point of the wall near the patch's middle.
    [[nodiscard]] std::optional<Vec3> at_station(const Patch& patch, double x) const {
        const Vec2 point = 0.5 * (patch.start + patch.end);
        const double level_x = x - centre_.x();
        const double square = point.x() * point.x() - level_x * level_x;
        if (square < 0) return std::nullopt;
        const double y = std::copysign(std::sqrt(square), (patch.from + patch.to).y());
        return Vec3(x, centre_.y() + y, centre_.z() + point.y());
    }

  private:
    static Vec2 halfway(const Vec2& from, const Vec2& to) { return (from + to).normalized(); }
    static double profile_size(const Patch& patch) { return (patch.end - patch.start).norm(); }
    static double arc_size(const Patch& patch) {
        return std::max(patch.start.x(), patch.end.x()) * (patch.to - patch.from).norm();
    }

    Vec3 centre_;
    std::vector<Patch> roots_;
};

/// The triangles of a mesh, in a tree of boxes.
class MeshWall {
  public:
    /// A node of the tree, whose box lies between the first two corners; or, below the leaves, part of a
    /// triangle.
    struct Patch {
        std::array<Vec3, 3> corner;
        std::int32_t node = -1;
    };

    explicit MeshWall(const MeshShape& shape) {
        if (!shape.mesh || shape.mesh->triangles.empty()) {
            throw std::invalid_argument("nearest_gap: a mesh surface has no triangles");
        }
        std::vector<Patch> triangles;
        triangles.reserve(shape.mesh->triangles.size());
        for (const Triangle& triangle : shape.mesh->triangles) {
            triangles.push_back({{shape.mesh->corner(triangle, 0), shape.mesh->corner(triangle, 1),
                                  shape.mesh->corner(triangle, 2)},
                                 -1});
        }
        nodes_.reserve(2 * triangles.size());
        build(triangles.begin(), triangles.end());
        root_ = {nodes_[0].patch};
    }

    [[nodiscard]] const std::array<Patch, 1>& roots() const { return root_; }

    [[nodiscard]] static bool on_surface(const Patch& patch) { return patch.node < 0; }

    [[nodiscard]] static Vec3 middle(const Patch& patch) {
        if (!on_surface(patch)) return 0.5 * (patch.corner[0] + patch.corner[1]);
        return (patch.corner[0] + patch.corner[1] + patch.corner[2]) / 3;
    }

    [[nodiscard]] static double least(const Patch& patch, const Vec3& w) {
        const auto& [a, b, c] = patch.corner;
        if (!on_surface(patch)) return w.cwiseProduct(a).cwiseMin(w.cwiseProduct(b)).sum();
        return std::min({w.dot(a), w.dot(b), w.dot(c)});
    }

    /// Across the triangle, of unit length; zero if there is none.
    [[nodiscard]] static Vec3 normal(const Patch& patch) {
        const auto& [a, b, c] = patch.corner;
        if (!on_surface(patch)) return Vec3::Zero();
        return (b - a).cross(c - a).normalized();
    }

    [[nodiscard]] static double size(const Patch& patch) {
        const auto& [a, b, c] = patch.corner;
        if (!on_surface(patch)) return (b - a).norm();
        return std::sqrt(std::max({(b - a).squaredNorm(), (c - b).squaredNorm(), (a - c).squaredNorm()}));
    }

    template <class Take>
    void halve(const Patch& patch, Take&& take) const {
        if (!on_surface(patch)) {
            const auto node = static_cast<std::size_t>(patch.node);
            take(nodes_[node + 1].patch);
            take(nodes_[static_cast<std::size_t>(nodes_[node].right)].patch);
            return;
        }
        // Across the longest edge.
        std::size_t longest = 0;
        double square = -1;
        for (std::size_t k = 0; k < 3; ++k) {
            const double length = (patch.corner[(k + 1) % 3] - patch.corner[k]).squaredNorm();
            if (length > square) {
                square = length;
                longest = k;
            }
        }
        const std::size_t other = (longest + 1) % 3;
        const Vec3 between = 0.5 * (patch.corner[longest] + patch.corner[other]);
        Patch half = patch;
        half.corner[longest] = between;
        take(half);
        half = patch;
        half.corner[other] = between;
        take(half);
    }

    /// A point of the triangle near its middle.
    [[nodiscard]] static std::optional<Vec3> at_station(const Patch& patch, double x) {
        const Vec3 from = middle(patch);
        for (const Vec3& to : patch.corner) {
            const double t = (x - from.x()) / (to.x() - from.x());
            if (t >= 0 && t <= 1) return Vec3(from + t * (to - from));
        }
        if (from.x() == x) return from;
        return std::nullopt;
    }

  private:
    struct Node {
        Patch patch;
        std::int32_t right = -1;  // the left child follows its parent
    };

    using Iterator = std::vector<Patch>::iterator;

    void build(Iterator first, Iterator last) {
        if (last - first == 1) {
            nodes_.push_back({*first, -1});
            return;
        }
        Box3 box, middles;
        for (Iterator it = first; it != last; ++it) {
            for (const Vec3& corner : it->corner) box.extend(corner);
            middles.extend(middle(*it));
        }
        Eigen::Index axis = 0;
        middles.sizes().maxCoeff(&axis);
        const Iterator half = first + (last - first) / 2;
        std::nth_element(first, half, last, [axis](const Patch& a, const Patch& b) {
            return middle(a)[axis] < middle(b)[axis];
        });
        const std::size_t node = nodes_.size();
        nodes_.push_back({{{box.min(), box.max(), box.max()}, static_cast<std::int32_t>(node)}, -1});
        build(first, half);
        nodes_[node].right = static_cast<std::int32_t>(nodes_.size());
        build(half, last);
    }

    std::vector<Node> nodes_;
    std::array<Patch, 1> root_;
};

/// How far a patch of wall is from a stretch of the load.
template <class Wall>
class Distance {
  public:
    Distance(const FrustumTree& load, const Wall& wall) : load_(load), wall_(wall) {}

    /// A lower bound for the pair; keeps the pair of points in `best` if it is better.
    double bound(const typename Wall::Patch& patch, int node, Gap& best) const {
        const Frustum& f = load_.hull(node);
        const Vec3 q = wall_.middle(patch);
        const Vec3 p = nearest_point(f, q);
        const double distance = (q - p).norm();
        if (distance < best.distance && load_.is_leaf(node) && wall_.on_surface(patch)) {
            best = {distance, p.x(), p, q, f.part};
        }
        if (distance == 0) return 0;
        const Vec3 w = (q - p) / distance;  // of unit length: a plane between both keeps them so far apart
        return std::max(0.0, wall_.least(patch, w) - reach(f, w));
    }

  private:
    const FrustumTree& load_;
    const Wall& wall_;
};

/// How far, at equal station, a patch of wall lies outside the radius of a stretch of the load; negative
/// inside.
template <class Wall>
class Excess {
  public:
    Excess(const FrustumTree& load, const Wall& wall) : load_(load), wall_(wall) {}

    double bound(const typename Wall::Patch& patch, int node, Gap& best) const {
        constexpr double never = std::numeric_limits<double>::infinity();
        const Frustum& f = load_.hull(node);
        const double low = wall_.least(patch, Vec3::UnitX()), high = -wall_.least(patch, -Vec3::UnitX());
        const double from = std::max(f.x0, low), to = std::min(f.x1, high);
        if (from > to) return never;  // no station in common

        const Vec3 q = wall_.middle(patch);
        const double wider = f.radius_at(from) > f.radius_at(to) ? from : to;
        if (load_.is_leaf(node) && wall_.on_surface(patch)) {
            for (const double x : {std::clamp(q.x(), from, to), wider}) {
                if (x == q.x()) {
                    keep(f, q, best);
                } else if (const std::optional<Vec3> point = wall_.at_station(patch, x)) {
                    keep(f, *point, best);
                }
            }
        }
        // Distance from the axis: the tangent at q of hypot(y, z − z_axis(x)), whose axis is a straight line.
        const double length = f.x1 - f.x0;
        const double slope = length > 0 ? (f.z1 - f.z0) / length : 0;
        const double y = q.y(), z = q.z() - (f.z0 + slope * (q.x() - f.x0));
        const double rho = Vec2(y, z).norm();
        const Vec3 rise = rho > 0 ? Vec3(-slope * z / rho, y / rho, z / rho) : Vec3::Zero();
        const double at_origin = rho - rise.dot(q);
        const bool sticks_out = from > low || to < high;
        const Vec3 along = sticks_out ? in_wall(wall_.normal(patch)) : Vec3::Zero();
        // The least over the patch of w·q, less a radius, at the common stations.
        const auto least = [&](const Vec3& w, double radius) {
            const double all = at_origin + wall_.least(patch, w) - radius;
            if (along.x() < 1e-9) return all;
            // What sticks out of the common stations must not count. A multiplier on the station, whatever it
            // is, keeps the bound true; this one levels w along the wall, as it would be at the best place on
            // the border.
            const double multiplier = -w.dot(along) / along.x();
            const double inside = std::max(multiplier * from, multiplier * to);
            return std::max(all,
                            at_origin + wall_.least(patch, w + multiplier * Vec3::UnitX()) - inside - radius);
        };
        const double apart = std::max(-f.radius_at(wider), least(rise, f.radius_at(wider)));
        // The radius falls in a line too: take it off before the least is sought.
        const double taper = length > 0 ? (f.r1 - f.r0) / length : 0;
        if (std::abs(taper) > steepest) return apart;
        return std::max(apart, least(rise - taper * Vec3::UnitX(), f.r0 - taper * f.x0));
    }

  private:
    /// The part along the wall of the step to the next station; its x is its own length squared.
    static Vec3 in_wall(const Vec3& normal) { return Vec3::UnitX() - normal.x() * normal; }

    static void keep(const Frustum& f, const Vec3& q, Gap& best) {
        const double height = f.height_at(q.x()), radius = f.radius_at(q.x());
        const double y = q.y(), z = q.z() - height;
        const double rho = Vec2(y, z).norm();
        if (rho - radius >= best.distance) return;
        const double uy = rho > 0 ? y / rho : 0, uz = rho > 0 ? z / rho : -1;
        best = {rho - radius, q.x(), {q.x(), radius * uy, height + radius * uz}, q, f.part};
    }

    const FrustumTree& load_;
    const Wall& wall_;
};

/// The least of a measure over all pairs, if it is less than `best`'s.
template <class Wall, class Measure>
Gap search(const FrustumTree& load, const Wall& wall, const Measure& measure, Gap best, double tolerance_m) {
    struct Pair {
        typename Wall::Patch patch;
        int node;
    };
    std::vector<Pair> pairs;
    // Of a pair: its bound, and where it is. Pairs themselves are too large to be moved about in a heap.
    using Waiting = std::pair<double, std::uint32_t>;
    const auto later = [](const Waiting& a, const Waiting& b) { return a.first > b.first; };
    std::priority_queue<Waiting, std::vector<Waiting>, decltype(later)> waiting(later);
    const double scale = std::max(load.hull(load.root()).r0, load.hull(load.root()).r1);
    double evaluations = 0;
    // Where whole faces lie equally near there is no end of equal pairs; the tolerance gives way to time.
    const auto tolerance = [&] {
        return tolerance_m * std::max(1.0, doubled_from * std::exp2(evaluations / evaluations_per_doubling));
    };
    const auto offer = [&](const typename Wall::Patch& patch, int node, double least) {
        ++evaluations;
        const double bound = std::max(least, measure.bound(patch, node, best));
        if (bound >= best.distance || bound >= best.distance - tolerance()) return;
        waiting.emplace(bound, static_cast<std::uint32_t>(pairs.size()));
        pairs.push_back({patch, node});
    };
    for (const auto& root : wall.roots()) offer(root, load.root(), -std::numeric_limits<double>::infinity());
    while (!waiting.empty()) {
        const auto [bound, place] = waiting.top();
        if (bound >= best.distance - tolerance()) break;
        waiting.pop();
        const Pair pair = pairs[place];
        const double size = wall.size(pair.patch);
        // A patch's bound misses by the square of its size; the load's hull should not miss by more.
        const Frustum& hull = load.hull(pair.node);
        const bool coarse = hull.x1 - hull.x0 > size || load.slack(pair.node) * scale > size * size;
        if (!load.is_leaf(pair.node) && (coarse || size < least_patch)) {
            offer(pair.patch, load.left(pair.node), bound);
            offer(pair.patch, load.right(pair.node), bound);
        } else if (size >= least_patch || !wall.on_surface(pair.patch)) {
            wall.halve(pair.patch, [&, least = bound](const auto& half) { offer(half, pair.node, least); });
        }
    }
    return best;
}

template <class Wall>
Gap gap_to(const FrustumTree& load, const Wall& wall, double tolerance_m) {
    Gap none;
    none.distance = 0;
    Gap strike = search(load, wall, Excess<Wall>(load, wall), none, tolerance_m);
    if (strike.distance < 0) return strike;
    none.distance = std::numeric_limits<double>::infinity();
    return search(load, wall, Distance<Wall>(load, wall), none, tolerance_m);
}

}  // namespace

Gap wall_gap(const FrustumTree& load, const RevolvedShape& wall, double tolerance_m) {
    Gap gap = gap_to(load, RevolvedWall(wall), tolerance_m);
    // Where the wall stands right under the rod, all is alike on both its sides. Of two places as near, the
    // one at +y is told, whichever rounding found.
    const double side = gap.on_load.y() != 0 ? gap.on_load.y() : gap.on_surface.y();
    if (wall.centre.y() == 0 && side < 0) {
        gap.on_load.y() *= -1;
        gap.on_surface.y() *= -1;
    }
    return gap;
}

Gap wall_gap(const FrustumTree& load, const MeshShape& wall, double tolerance_m) {
    return gap_to(load, MeshWall(wall), tolerance_m);
}

}  // namespace evenspit
