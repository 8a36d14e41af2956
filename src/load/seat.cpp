// SPDX-License-Identifier: MIT
#include <numbers>

#include "load/assembly.h"

namespace evenspit {

Pose seat_pose(const Seat& seat, double x_min, double x_max) {
    const Vec3 a(x_min, seat.line.from.x(), seat.line.from.y());
    const Vec3 b(x_max, seat.line.to.x(), seat.line.to.y());
    // A body without length has no line through it to speak of; it is left as it lies.
    const Vec3 along = b.x() > a.x() ? Vec3((b - a).normalized()) : Vec3(Vec3::UnitX());
    const Vec3 foot = a - a.dot(along) * along;

    Eigen::Quaterniond turn(Eigen::AngleAxisd(seat.turn_rad, Vec3::UnitX()));
    // The half turn after the tilt is the tilt after the half turn: both bring the line onto the axis the
    // short way.
    if (seat.facing == Facing::drive) turn = turn * Eigen::AngleAxisd(std::numbers::pi, Vec3::UnitZ());
    turn = turn * Eigen::Quaterniond::FromTwoVectors(along, Vec3::UnitX());

    Pose pose = Pose::Identity();
    pose.linear() = turn.toRotationMatrix();
    pose.translation() = Vec3(seat.at_m, 0, 0) - pose.linear() * foot;
    return pose;
}

}  // namespace evenspit
