// SPDX-License-Identifier: MIT
#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>

namespace evenspit {

using Vec2 = Eigen::Vector2d;
using Vec3 = Eigen::Vector3d;
using Mat3 = Eigen::Matrix3d;

/// A rigid move p ↦ R p + t; metres, no scale, no mirror.
using Pose = Eigen::Isometry3d;

/// A covariance in the axes into which a move turns it.
Mat3 turned(const Mat3& covariance, const Pose& pose);

using Box3 = Eigen::AlignedBox3d;

}  // namespace evenspit
