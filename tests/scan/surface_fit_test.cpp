// SPDX-License-Identifier: MIT
#include "scan/surface_fit.h"

#include <cmath>

#include <gtest/gtest.h>

#include "made_points.h"

namespace evenspit::scan {
namespace {

constexpr double radius = 0.1;

SurfaceFit fit_of_a_ball(double noise, bool upper_half_only = false) {
    PointSet points;
    for (const Vec3& p :
         test::scattered(test::ellipsoid_mesh(radius, radius, radius, Vec3::Zero(), 96, 64), 40000, noise)) {
        if (upper_half_only && p.z() < 0) continue;
        points.positions.push_back(p);
        points.normals.push_back(p.normalized());
    }
    return {points, ScanScale::of(2 * radius * std::sqrt(3.0), {0.0018, noise})};
}

TEST(SurfaceFit, TellsHowFarThePointsAre) {
    const SurfaceFit fit = fit_of_a_ball(0.001);
    for (const Vec3& direction :
         {Vec3::UnitX().eval(), Vec3(1, 2, 3).normalized().eval(), Vec3(-1, 0.5, -2).normalized().eval()}) {
        for (const double off : {-0.002, 0.0, 0.002}) {
            const SurfaceFit::Result found = fit.at((radius + off) * direction, direction);
            EXPECT_NEAR(found.height, -off, 4e-4);
            EXPECT_GT(found.trust, 0.7);
            EXPECT_GT(found.normal.dot(direction), 0.95);
            EXPECT_NEAR(found.scatter, 0.001, 3e-4);
        }
    }
}

TEST(SurfaceFit, HasNoTrustWhereThereIsNothing) {
    const SurfaceFit fit = fit_of_a_ball(0.001, true);
    EXPECT_EQ(fit.at(Vec3(0, 0, -radius), -Vec3::UnitZ()).trust, 0);
    EXPECT_EQ(fit.at(Vec3(0, 0, radius), -Vec3::UnitZ()).trust, 0)
        << "points that face the other way are no neighbours";
    const double at_the_rim = fit.at(Vec3(radius, 0, 0), Vec3::UnitX()).trust;
    EXPECT_LT(at_the_rim, 0.7 * fit.at(Vec3(0, 0, radius), Vec3::UnitZ()).trust);
}

}  // namespace
}  // namespace evenspit::scan
