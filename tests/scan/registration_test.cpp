// SPDX-License-Identifier: MIT
#include "scan/registration.h"

#include <numbers>

#include <gtest/gtest.h>

#include "made_points.h"

namespace evenspit::scan {
namespace {

Sheet part_of(const Sheet& whole, const Vec3& side, double beyond, const Pose& pose) {
    Sheet part;
    for (std::size_t s = 0; s < whole.size(); ++s) {
        if (whole.positions[s].dot(side) < beyond) continue;
        part.positions.push_back(pose * whole.positions[s]);
        part.normals.push_back(pose.linear() * whole.normals[s]);
        part.areas.push_back(whole.areas[s]);
        part.invented.push_back(false);
    }
    return part;
}

Pose some_pose() {
    Pose pose = Pose::Identity();
    pose.linear() = Eigen::AngleAxisd(2.1, Vec3(1, -2, 0.5).normalized()).toRotationMatrix();
    pose.translation() = Vec3(0.3, 0.1, -0.2);
    return pose;
}

TEST(RegisterScans, BringsTwoSidesOfABodyTogether) {
    const TriangleMesh body = test::roast();
    const Sheet whole = test::sheet_on(body, 8000);
    const Pose away = some_pose();
    const Registration fit =
        register_scans(part_of(whole, Vec3::UnitZ(), -0.03, Pose::Identity()), body,
                       part_of(whole, -Vec3::UnitZ(), -0.03, away), transformed(body, away), 0.0005);
    const Pose left = fit.move * away;
    EXPECT_LT(Eigen::AngleAxisd(left.linear()).angle() * 180 / std::numbers::pi, 0.3);
    EXPECT_LT(left.translation().norm(), 5e-4);
    EXPECT_LT(fit.error, 1e-3);
    EXPECT_GT(fit.overlap, 0.3);
    EXPECT_GT(fit.agreement, 0.95);
}

TEST(RegisterScans, OfFitsAsGoodTakesTheOneThatShowsMost) {
    // Any turn about its axis lays an egg on itself, and so the sides seen on each other.
    for (const Vec3& radii : {Vec3(0.15, 0.08, 0.08), Vec3(0.15, 0.1, 0.07)}) {
        const TriangleMesh body = test::ellipsoid_mesh(radii.x(), radii.y(), radii.z(), Vec3::Zero());
        const Sheet whole = test::sheet_on(body, 8000);
        const Pose away = some_pose();
        const Registration fit = register_scans(
            part_of(whole, Vec3::UnitZ(), -0.3 * radii.z(), Pose::Identity()), body,
            part_of(whole, -Vec3::UnitZ(), -0.3 * radii.z(), away), transformed(body, away), 0.0005);
        // Where the side that only the second saw comes to lie.
        const Vec3 side = (fit.move * away).linear() * -Vec3::UnitZ();
        EXPECT_LT(side.z(), -0.85) << radii.transpose();
        EXPECT_GT(fit.rival, 0.7);
        EXPECT_LE(fit.rival, 1);
    }
}

TEST(RegisterScans, TakesAWayThatMayBeWhereThereIsOne) {
    // An egg of three axes lies on itself in four ways; of these one may be in turn.
    const TriangleMesh body = test::ellipsoid_mesh(0.15, 0.1, 0.07, Vec3::Zero());
    const Sheet whole = test::sheet_on(body, 4000);
    for (const Vec3& wanted : {Vec3(1, 1, 1), Vec3(-1, -1, 1), Vec3(-1, 1, -1), Vec3(1, -1, -1)}) {
        const auto possible = [&](const Pose& move) {
            return move.linear().diagonal().cwiseProduct(wanted).minCoeff() > 0.9;
        };
        const Registration fit = register_scans(whole, body, whole, body, 0.0005, possible);
        EXPECT_TRUE(possible(fit.move)) << wanted.transpose();
        EXPECT_LT(fit.error, 1e-3);
    }
    // Where there is none, the best is told all the same.
    const auto never = [](const Pose&) { return false; };
    EXPECT_LT(register_scans(whole, body, whole, body, 0.0005, never).error, 1e-3);
}

TEST(RegisterScans, TellsBodiesThatAreNotTheSame) {
    const TriangleMesh body = test::roast(), other = test::ellipsoid_mesh(0.12, 0.12, 0.05, Vec3::Zero());
    const Registration fit =
        register_scans(test::sheet_on(body, 8000), body, test::sheet_on(other, 8000), other, 0.0005);
    EXPECT_LT(fit.agreement, 0.5) << fit.error << " over " << fit.overlap;
}

}  // namespace
}  // namespace evenspit::scan
