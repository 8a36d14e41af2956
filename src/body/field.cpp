// SPDX-License-Identifier: MIT
#include "body/field.h"

namespace evenspit::body {

RoundCone::RoundCone(const Vec3& a, const Vec3& b, double ra, double rb)
    : a_(a), axis_(Vec3::UnitX()), length_((b - a).norm()), ra_(ra), rb_(rb), slope_(0), cosine_(0) {
    if (length_ > 0) axis_ = (b - a) / length_;
    if (std::abs(ra - rb) < length_) {
        slope_ = (ra - rb) / length_;
        cosine_ = std::sqrt(1 - slope_ * slope_);
    }
}

// In the half plane through the axis, with s along it and t away from it, the mantle touches both end circles
// along the line with normal (slope, cosine). A point belongs to the mantle if its foot on the axis, seen
// along that normal, falls between the ends.
double RoundCone::distance(const Vec3& p) const {
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

Ellipsoid::Ellipsoid(const Vec3& centre, const Vec3& half_axes, const Mat3& axes)
    : centre_(centre),
      to_unit_(half_axes.cwiseInverse().asDiagonal() * axes.transpose()),
      inverse_(half_axes.cwiseInverse()),
      least_(half_axes.minCoeff()),
      longest_(half_axes.maxCoeff()) {}

double Ellipsoid::distance(const Vec3& p) const {
    const Vec3 unit = to_unit_ * (p - centre_);
    const double k0 = unit.norm();
    const double k1 = unit.cwiseProduct(inverse_).norm();
    // k₀/k₁ has no limit at the centre itself; any depth will do there.
    return k1 > 1e-9 * inverse_.minCoeff() ? k0 * (k0 - 1) / k1 : -least_;
}

}  // namespace evenspit::body
