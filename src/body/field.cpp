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

Box3 RoundCone::box() const {
    const Vec3 b = a_ + length_ * axis_;
    Box3 box(Vec3(a_ - Vec3::Constant(ra_)), Vec3(a_ + Vec3::Constant(ra_)));
    box.extend(Vec3(b - Vec3::Constant(rb_)));
    box.extend(Vec3(b + Vec3::Constant(rb_)));
    return box;
}

Ellipsoid::Ellipsoid(const Vec3& centre, const Vec3& half_axes, const Mat3& axes)
    : centre_(centre),
      is_upright_(axes == Mat3::Identity()),
      to_unit_(half_axes.cwiseInverse().asDiagonal() * axes.transpose()),
      inverse_(half_axes.cwiseInverse()),
      least_(half_axes.minCoeff()),
      longest_(half_axes.maxCoeff()) {}

}  // namespace evenspit::body
