// SPDX-License-Identifier: MIT
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "load/assembly.h"

namespace evenspit {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double tiny = 1e-13;

// A number between two bounds, in millionths of the span.
double between(double low, double high) {
    return low + (high - low) * *rc::gen::inRange(0, 1000001) / 1e6;
}

struct Seated {
    Seat seat;
    double x_min = 0;
    double x_max = 0;
    Pose pose = Pose::Identity();

    [[nodiscard]] Vec3 entry() const { return pose * Vec3(x_min, seat.line.from.x(), seat.line.from.y()); }
    [[nodiscard]] Vec3 exit() const { return pose * Vec3(x_max, seat.line.to.x(), seat.line.to.y()); }
};

Seated any_seat() {
    Seated seated;
    seated.x_min = between(-0.4, 0.3);
    seated.x_max = seated.x_min + between(0.05, 0.6);
    seated.seat.at_m = between(0, 1);
    seated.seat.facing = *rc::gen::element(Facing::point, Facing::drive);
    seated.seat.turn_rad = between(-7, 7);
    seated.seat.line.from = Vec2(between(-0.1, 0.1), between(-0.1, 0.1));
    seated.seat.line.to = Vec2(between(-0.1, 0.1), between(-0.1, 0.1));
    seated.pose = seat_pose(seated.seat, seated.x_min, seated.x_max);
    return seated;
}

TEST(SeatPose, OfAnUntiltedCentredItemOnlyMovesItAlong) {
    const Pose pose = seat_pose({.at_m = 0.34}, -0.2, 0.2);
    EXPECT_TRUE(pose.isApprox(Pose(Eigen::Translation3d(0.34, 0, 0)), tiny));
}

TEST(SeatPose, PutsAnOffsetLineOntoTheAxis) {
    // The rod runs 20 mm beside and 30 mm below the item's origin: the origin ends up on the other side.
    const Seat seat{.at_m = 0.34, .line = {.from = {0.02, -0.03}, .to = {0.02, -0.03}}};
    EXPECT_TRUE((seat_pose(seat, -0.2, 0.2) * Vec3::Zero()).isApprox(Vec3(0.34, -0.02, 0.03), tiny));
}

TEST(SeatPose, FacingTheDriveTurnsHalfAboutTheUpright) {
    const Pose pose = seat_pose({.at_m = 0.34, .facing = Facing::drive}, -0.2, 0.2);
    EXPECT_TRUE((pose.linear() * Vec3::UnitX()).isApprox(-Vec3::UnitX(), tiny));
    EXPECT_TRUE((pose.linear() * Vec3::UnitY()).isApprox(-Vec3::UnitY(), tiny));
    EXPECT_TRUE((pose.linear() * Vec3::UnitZ()).isApprox(Vec3::UnitZ(), tiny));
}

TEST(SeatPose, ClocksAboutTheRod) {
    // Clock runs from +Y to +Z: a quarter turn brings the item's z from clock 90° to 180°, which is −Y.
    for (const Facing facing : {Facing::point, Facing::drive}) {
        const Pose pose = seat_pose({.facing = facing, .turn_rad = pi / 2}, -0.2, 0.2);
        EXPECT_TRUE((pose.linear() * Vec3::UnitZ()).isApprox(-Vec3::UnitY(), tiny));
    }
}

TEST(SeatPose, TiltsTheShortWay) {
    // A line that rises by as much as it runs: the item leans down by 45° about its y, and by nothing else.
    const Seat seat{.line = {.from = {0, -0.1}, .to = {0, 0.1}}};
    const Pose pose = seat_pose(seat, -0.1, 0.1);
    const Eigen::AngleAxisd expected(pi / 4, Vec3::UnitY());
    EXPECT_TRUE(pose.linear().isApprox(expected.toRotationMatrix(), tiny));
}

TEST(SeatPose, OfABodyWithoutLengthLeavesItUntilted) {
    const Seat seat{.at_m = 0.1, .line = {.from = {0.01, 0}, .to = {0.5, 0.5}}};
    const Pose pose = seat_pose(seat, 0.2, 0.2);
    EXPECT_TRUE(pose.linear().isIdentity(tiny));
    EXPECT_TRUE(pose.translation().allFinite());
}

TEST(SeatPose, LaysTheLineOnTheAxisTheRightWayRound) {
    const bool held = rc::check("line on the axis", [] {
        const Seated seated = any_seat();
        const Vec3 entry = seated.entry();
        const Vec3 exit = seated.exit();
        RC_ASSERT(entry.tail<2>().norm() < tiny);
        RC_ASSERT(exit.tail<2>().norm() < tiny);
        RC_ASSERT((exit.x() > entry.x()) == (seated.seat.facing == Facing::point));
    });
    EXPECT_TRUE(held);
}

TEST(SeatPose, PutsTheFootOfTheOriginAtTheStation) {
    const bool held = rc::check("origin at the station", [] {
        const Seated seated = any_seat();
        RC_ASSERT(std::abs((seated.pose * Vec3::Zero()).x() - seated.seat.at_m) < tiny);
    });
    EXPECT_TRUE(held);
}

TEST(SeatPose, IsARigidMove) {
    const bool held = rc::check("rotation", [] {
        const Mat3 rotation = any_seat().pose.linear();
        RC_ASSERT((rotation * rotation.transpose()).isIdentity(tiny));
        RC_ASSERT(std::abs(rotation.determinant() - 1) < tiny);
    });
    EXPECT_TRUE(held);
}

TEST(SeatPose, KeepsTheItemsUprightAtItsClockWhereTheLineIsLevel) {
    const bool held = rc::check("upright", [] {
        Seated seated = any_seat();
        // Level: no climb along the item. A swing to the side leaves z upright.
        seated.seat.line.to.y() = seated.seat.line.from.y();
        const Pose pose = seat_pose(seated.seat, seated.x_min, seated.x_max);
        const Vec3 up = pose.linear() * Vec3::UnitZ();
        const double clock = pi / 2 + seated.seat.turn_rad;
        RC_ASSERT((up - Vec3(0, std::cos(clock), std::sin(clock))).norm() < tiny);
    });
    EXPECT_TRUE(held);
}

TEST(SeatPose, TurnsAsTheRodTurns) {
    const bool held = rc::check("turn composes", [] {
        Seated seated = any_seat();
        const double more = between(-7, 7);
        const Pose turned = Eigen::AngleAxisd(more, Vec3::UnitX()) * seated.pose;
        seated.seat.turn_rad += more;
        RC_ASSERT(turned.isApprox(seat_pose(seated.seat, seated.x_min, seated.x_max), 1e-12));
    });
    EXPECT_TRUE(held);
}

}  // namespace
}  // namespace evenspit
