// SPDX-License-Identifier: MIT
#include "geometry/gap.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <utility>
#include <vector>

#include "geometry/frustum.h"
#include "geometry/wall_gap.h"

namespace evenspit {

namespace {

constexpr double unit_tolerance = 1e-9;

/// Where a convex function is least on an interval: golden section, and the ends.
template <class Function>
double least_of_convex(const Function& f, double from, double to) {
    constexpr int rounds = 60;  // narrows the interval to 3e-13 of itself
    constexpr double keep = 1 / std::numbers::phi;
    double a = from, b = to;
    double low = b - keep * (b - a), high = a + keep * (b - a);
    double f_low = f(low), f_high = f(high);
    for (int i = 0; i < rounds && a < b; ++i) {
        if (f_low < f_high) {
            b = high;
            high = low;
            f_high = f_low;
            low = b - keep * (b - a);
            f_low = f(low);
        } else {
            a = low;
            low = high;
            f_low = f_high;
            high = a + keep * (b - a);
            f_high = f(high);
        }
    }
    double best = 0.5 * (a + b);
    for (const double end : {from, to}) {
        if (f(end) <= f(best)) best = end;
    }
    return best;
}

/// Where a function changes sign between two places, one negative, one not.
template <class Function>
double sign_change(const Function& f, double negative, double other) {
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (negative + other);
        (f(middle) < 0 ? negative : other) = middle;
    }
    return other;
}

Gap plane_gap(const std::vector<Frustum>& load, const PlaneShape& plane) {
    if (!(std::abs(plane.normal.norm() - 1) <= unit_tolerance)) {
        throw std::invalid_argument("nearest_gap: a plane's normal must be of unit length");
    }
    const double across = plane.normal.tail<2>().norm();
    // Down to the plane; any direction where the plane stands across the rod.
    const Vec3 radial =
        across > 0 ? Vec3(0, -plane.normal.y() / across, -plane.normal.z() / across) : Vec3(0, 0, -1);
    Gap best;
    best.distance = std::numeric_limits<double>::infinity();
    const auto consider = [&](double x, double z, double r, int part) {
        const Vec3 p = Vec3(x, 0, z) + r * radial;
        const double distance = plane.normal.dot(p - plane.point);
        if (distance < best.distance) best = {distance, x, p, p - distance * plane.normal, part};
    };
    for (const Frustum& f : load) {
        consider(f.x0, f.z0, f.r0, f.part);
        consider(f.x1, f.z1, f.r1, f.part);
    }
    return best;
}

/// A box against stretches of load. Both are convex and a station's sections are a disc and one rectangle, so
/// all there is to seek is the station.
class BoxGap {
  public:
    BoxGap(const std::vector<Frustum>& load, const BoxShape& box) : load_(load), box_(box) {
        if (!(box.min.array() <= box.max.array()).all()) {
            throw std::invalid_argument("nearest_gap: a box's sides must run from min to max");
        }
    }

    [[nodiscard]] Gap gap() const {
        Gap deepest = deepest_strike();
        if (deepest.distance < 0) {
            deepest.distance = -std::min(-deepest.distance, push_to_free());
            return deepest;
        }
        return nearest();
    }

  private:
    /// The section's point nearest to the axis at some height.
    [[nodiscard]] Vec2 section_point(double height) const {
        return {std::clamp(0.0, box_.min.y(), box_.max.y()), std::clamp(height, box_.min.z(), box_.max.z())};
    }
    [[nodiscard]] double axis_distance(double height) const {
        const Vec2 p = section_point(height);
        return Vec2(p.x(), p.y() - height).norm();
    }
    /// How far the section lies outside the radius, as if the box ran all along the rod: convex in x.
    [[nodiscard]] double excess(const Frustum& f, double x) const {
        return axis_distance(f.height_at(x)) - f.radius_at(x);
    }
    /// A lower bound of excess() over the frustum.
    [[nodiscard]] double least_excess(const Frustum& f) const {
        return std::min(axis_distance(f.z0), axis_distance(f.z1)) - std::abs(f.z1 - f.z0) -
               std::max(f.r0, f.r1);
    }
    [[nodiscard]] double station_gap(double x) const {
        return std::max({0.0, box_.min.x() - x, x - box_.max.x()});
    }

    [[nodiscard]] Gap at_station(const Frustum& f, double x, double distance) const {
        const double height = f.height_at(x);
        const Vec2 p = section_point(height);
        const double y = p.x(), z = p.y() - height;
        const double rho = Vec2(y, z).norm();
        const double uy = rho > 0 ? y / rho : 0, uz = rho > 0 ? z / rho : -1;
        // Where the disc overlaps the section only in the projection along the rod, the nearest points share
        // y and z.
        const double r = distance < 0 ? f.radius_at(x) : std::min(rho, f.radius_at(x));
        return {distance,
                x,
                {x, r * uy, height + r * uz},
                {std::clamp(x, box_.min.x(), box_.max.x()), p.x(), p.y()},
                f.part};
    }

    [[nodiscard]] Gap deepest_strike() const {
        Gap best;
        best.distance = 0;
        for (const Frustum& f : load_) {
            const double from = std::max(f.x0, box_.min.x()), to = std::min(f.x1, box_.max.x());
            if (from > to || least_excess(f) >= best.distance) continue;
            const double x = least_of_convex([&](double s) { return excess(f, s); }, from, to);
            if (excess(f, x) < best.distance) best = at_station(f, x, excess(f, x));
        }
        return best;
    }

    [[nodiscard]] Gap nearest() const {
        // No point of a stretch is nearer than this.
        std::vector<double> bounds;
        bounds.reserve(load_.size());
        for (const Frustum& f : load_) {
            const double along = std::max({0.0, box_.min.x() - f.x1, f.x0 - box_.max.x()});
            bounds.push_back(Vec2(along, std::max(0.0, least_excess(f))).norm());
        }
        const auto distance = [&](const Frustum& f, double s) {
            return Vec2(station_gap(s), std::max(0.0, excess(f, s))).norm();
        };
        const auto nearest_station = [&](const Frustum& f) {
            return least_of_convex([&](double s) { return distance(f, s); }, f.x0, f.x1);
        };
        // Nor need any be looked at that is surely further than where the bound is least.
        const auto likely = std::min_element(bounds.begin(), bounds.end()) - bounds.begin();
        const Frustum& first = load_[static_cast<std::size_t>(likely)];
        const double near_enough = distance(first, nearest_station(first));
        Gap best;
        best.distance = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < load_.size(); ++i) {
            if (bounds[i] > near_enough || bounds[i] >= best.distance) continue;
            const Frustum& f = load_[i];
            const double x = nearest_station(f);
            if (distance(f, x) < best.distance) best = at_station(f, x, distance(f, x));
        }
        return best;
    }

    /// The shortest move along the rod, either way, after which no section strikes.
    [[nodiscard]] double push_to_free() const {
        // A stretch of stations that strikes wherever the box is forbids a stretch of moves.
        std::vector<std::pair<double, double>> forbidden;
        for (const Frustum& f : load_) {
            if (least_excess(f) >= 0) continue;
            const auto over = [&](double s) { return excess(f, s); };
            const double deepest = least_of_convex(over, f.x0, f.x1);
            if (over(deepest) >= 0) continue;
            const double from = over(f.x0) < 0 ? f.x0 : sign_change(over, deepest, f.x0);
            const double to = over(f.x1) < 0 ? f.x1 : sign_change(over, deepest, f.x1);
            forbidden.emplace_back(box_.min.x() - to, box_.max.x() - from);
        }
        std::sort(forbidden.begin(), forbidden.end());
        // Overlapping stretches make runs; the first run that ends beyond "no move" is the one that holds it.
        double low = 0, high = -std::numeric_limits<double>::infinity();
        for (const auto& [from, to] : forbidden) {
            if (from > high) {
                if (high >= 0) break;
                low = from;
            }
            high = std::max(high, to);
        }
        return std::max(0.0, std::min(high, -low));
    }

    const std::vector<Frustum>& load_;
    const BoxShape& box_;
};

/// Picks the kernel for a shape.
class GapTo {
  public:
    GapTo(const std::vector<Frustum>& load, const FrustumTree& tree, double tolerance_m)
        : load_(load), tree_(tree), tolerance_m_(tolerance_m) {}

    Gap operator()(const PlaneShape& plane) const { return plane_gap(load_, plane); }
    Gap operator()(const BoxShape& box) const { return BoxGap(load_, box).gap(); }
    Gap operator()(const RevolvedShape& wall) const { return wall_gap(tree_, wall, tolerance_m_); }
    Gap operator()(const MeshShape& wall) const { return wall_gap(tree_, wall, tolerance_m_); }

  private:
    const std::vector<Frustum>& load_;
    const FrustumTree& tree_;
    double tolerance_m_;
};

/// Shares of the accuracy asked for that go to the sag's bending within a piece, and to ending the search.
constexpr double sag_share = 0.1;
constexpr double search_share = 0.5;

const Outline& not_empty(const Outline& outline) {
    if (outline.empty()) throw std::invalid_argument("nearest_gap: the outline is empty");
    return outline;
}

}  // namespace

SaggedLoad::SaggedLoad(const Outline& outline, const std::function<double(double)>& sag, double accuracy_m,
                       double most_curved_1_m)
    : pieces_(lowered(not_empty(outline), sag, sag_share * accuracy_m, most_curved_1_m)),
      tree_(pieces_),
      accuracy_m_(accuracy_m) {}

Gap SaggedLoad::gap_to(const SurfaceShape& surface) const {
    return std::visit(GapTo(pieces_, tree_, search_share * accuracy_m_), surface);
}

Gap nearest_gap(const Outline& outline, const std::function<double(double)>& sag,
                const SurfaceShape& surface) {
    return SaggedLoad(outline, sag).gap_to(surface);
}

}  // namespace evenspit
