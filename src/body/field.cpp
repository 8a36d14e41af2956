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

Ellipsoid::Ellipsoid(const Vec3& centre, const Vec3& half_axes, const Mat3& axes)
    : centre_(centre),
      to_unit_(half_axes.cwiseInverse().asDiagonal() * axes.transpose()),
      inverse_(half_axes.cwiseInverse()),
      least_(half_axes.minCoeff()),
      longest_(half_axes.maxCoeff()) {}

}  // namespace evenspit::body
