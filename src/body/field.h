// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>

#include "geometry/types.h"

namespace evenspit::body {

/// What a field is at least, far away: slope · |p − hub| − offset wherever that is positive.
struct FieldBound {
    Vec3 hub = Vec3::Zero();
    double slope = 0;
    double offset = 0;  ///< m; without a slope nothing is known

    [[nodiscard]] double at(const Vec3& p) const {
        const double least = slope * (p - hub).norm() - offset;
        return least > 0 ? least : -std::numeric_limits<double>::infinity();
    }
};

/// What a distance may be off by rounding in bodies of a kitchen's size, m, and a thousand times more.
inline constexpr double field_rounding = 1e-9;

/// A round-ended cone: the solid that spheres sweep from `a` to `b` while their radius runs in a line from ra
/// to rb.
///
/// distance() is the exact signed distance (negative inside), in the unit of the points; gradient length 1.
/// Formula: the tangent line to both end circles in the plane through the axis, derived below.
class RoundCone {
  public:
    /// \pre radii positive
    RoundCone(const Vec3& a, const Vec3& b, double ra, double rb);

    [[nodiscard]] double distance(const Vec3& p) const;
    /// Only true where distance(p) is `least` or more; takes no root.
    [[nodiscard]] bool is_beyond(const Vec3& p, double least) const;
    /// A point's distance from the solid is at least |p − hub()| − reach().
    [[nodiscard]] Vec3 hub() const { return a_ + 0.5 * length_ * axis_; }
    [[nodiscard]] double reach() const { return 0.5 * length_ + std::max(ra_, rb_); }
    [[nodiscard]] FieldBound bound() const { return {hub(), 1, reach()}; }
    /// Holds the solid.
    [[nodiscard]] Box3 box() const;

  private:
    Vec3 a_, axis_;
    double length_, ra_, rb_;
    double slope_;   // sine of the half angle of the cone
    double cosine_;  // and its cosine; 0 if one end swallows the other
};

// Here, as a body's field asks for little else.
//
// In the half plane through the axis, with s along it and t away from it, the mantle touches both end circles
// along the line with normal (slope, cosine). A point belongs to the mantle if its foot on the axis, seen
// along that normal, falls between the ends.
inline double RoundCone::distance(const Vec3& p) const {
    const Vec3 from_a = p - a_;
    const double s = from_a.dot(axis_);
    const double t = (from_a - s * axis_).norm();
    if (cosine_ == 0) {
        // One end lies within the other.
        return std::min(from_a.norm() - ra_, (from_a - length_ * axis_).norm() - rb_);
    }
    const double foot = s - t * slope_ / cosine_;
    if (foot <= 0) return from_a.norm() - ra_;
    if (foot >= length_) return (from_a - length_ * axis_).norm() - rb_;
    return s * slope_ + t * cosine_ - ra_;
}

// By the cylinder round the thicker end.
inline bool RoundCone::is_beyond(const Vec3& p, double least) const {
    const double reach = least + std::max(ra_, rb_) + field_rounding;
    const Vec3 from_a = p - a_;
    const double s = std::clamp(from_a.dot(axis_), 0.0, length_);
    return reach <= 0 || (from_a - s * axis_).squaredNorm() >= reach * reach;
}

/// An ellipsoid turned in space.
///
/// distance() has the right sign and zero everywhere and is the distance to first order near the surface
/// (k₀(k₀−1)/k₁ with k₀ = |p/r|, k₁ = |p/r²|); elsewhere its size is at most the distance times longest over
/// shortest half axis.
class Ellipsoid {
  public:
    /// `axes` turns the ellipsoid's own axes into those of the points.
    Ellipsoid(const Vec3& centre, const Vec3& half_axes, const Mat3& axes = Mat3::Identity());

    [[nodiscard]] double distance(const Vec3& p) const;
    /// Only true where distance(p) is `least` or more; takes no root.
    [[nodiscard]] bool is_beyond(const Vec3& p, double least) const;
    /// Outside k₀/k₁ is at least the shortest half axis, and k₀ at least |p − centre| over the longest.
    [[nodiscard]] FieldBound bound() const { return {centre_, least_ / longest_, least_}; }

  private:
    [[nodiscard]] Vec3 in_units(const Vec3& p) const {
        if (is_upright_) return inverse_.cwiseProduct(p - centre_);
        return to_unit_ * (p - centre_);
    }
    Vec3 centre_;
    bool is_upright_;         // its axes are those of the points
    Mat3 to_unit_;            // p − centre ↦ p/r in the ellipsoid's axes
    Vec3 inverse_;            // 1/r
    double least_, longest_;  // half axes
};

inline double Ellipsoid::distance(const Vec3& p) const {
    const Vec3 unit = in_units(p);
    const double k0 = unit.norm();
    const double k1 = unit.cwiseProduct(inverse_).norm();
    // k₀/k₁ has no limit at the centre itself; any depth will do there.
    return k1 > 1e-9 * inverse_.minCoeff() ? k0 * (k0 - 1) / k1 : -least_;
}

inline bool Ellipsoid::is_beyond(const Vec3& p, double least) const {
    const double k0 = 1 + (std::max(least, 0.0) + field_rounding) / least_;
    return in_units(p).squaredNorm() >= k0 * k0;
}

/// A box along the axes of the points, edges and corners rounded.
///
/// distance() is the exact signed distance outside, and inside the distance to the nearest face.
class RoundBox {
  public:
    /// \pre rounding no more than the least half size
    RoundBox(const Vec3& centre, const Vec3& half_sizes, double rounding)
        : centre_(centre), core_(half_sizes - Vec3::Constant(rounding)), rounding_(rounding) {}

    [[nodiscard]] double distance(const Vec3& p) const {
        const Vec3 q = (p - centre_).cwiseAbs() - core_;
        return q.cwiseMax(0.0).norm() + std::min(q.maxCoeff(), 0.0) - rounding_;
    }
    [[nodiscard]] FieldBound bound() const { return {centre_, 1, core_.norm() + rounding_}; }

  private:
    Vec3 centre_, core_;
    double rounding_;
};

/// The lesser of two distances, rounded where they come within `width` of each other: a fillet. Equal to
/// min(a, b) where |a − b| ≥ width; differentiable; gradient no longer than the longer of the two.
inline double blend(double a, double b, double width) {
    const double h = width - std::abs(a - b);
    return h > 0 ? std::min(a, b) - h * h / (4 * width) : std::min(a, b);
}

/// What is in `solid` and not in `tool`, the rim rounded over `width`.
inline double carve(double solid, double tool, double width) {
    return -blend(-solid, tool, width);
}

}  // namespace evenspit::body
