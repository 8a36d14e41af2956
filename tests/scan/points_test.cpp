// SPDX-License-Identifier: MIT
#include "scan/points.h"

#include <cmath>
#include <random>

#include <gtest/gtest.h>

namespace evenspit::scan {
namespace {

// n points scattered evenly over a sphere, each off it by noise.
PointSet sphere(double radius, std::size_t n, double noise) {
    std::mt19937 dice(5);
    std::normal_distribution<double> normal;
    PointSet points;
    for (std::size_t i = 0; i < n; ++i) {
        const double x = normal(dice), y = normal(dice), z = normal(dice), off = noise * normal(dice);
        points.positions.push_back((radius + off) * Vec3(x, y, z).normalized());
    }
    return points;
}

TEST(Thinned, KeepsMeanAndNumber) {
    PointSet points;
    points.positions = {{0.1, 0.1, 0.1}, {0.3, 0.1, 0.1}, {5, 5, 5}};
    points.normals = {Vec3::UnitX(), Vec3::UnitX(), Vec3::UnitZ()};
    const PointSet thin = thinned(points, 1);
    ASSERT_EQ(thin.size(), 2u);
    EXPECT_TRUE(thin.positions[0].isApprox(Vec3(0.2, 0.1, 0.1), 1e-15));
    EXPECT_EQ(thin.counts[0], 2u);
    EXPECT_TRUE(thin.normals[0].isApprox(Vec3::UnitX()));
    EXPECT_EQ(thin.counts[1], 1u);
    // Thinned again the numbers add up.
    EXPECT_EQ(thinned(thin, 100).counts, std::vector<std::uint32_t>{3});
    EXPECT_DOUBLE_EQ(thinned(thin, 100).total_count(), 3);
}

TEST(Thinned, MeanOfManyPointsIsTheirMean) {
    const PointSet points = sphere(1, 20000, 0.02);
    const PointSet thin = thinned(points, 0.3);
    Vec3 mean = Vec3::Zero(), thin_mean = Vec3::Zero();
    for (const Vec3& p : points.positions) mean += p / double(points.size());
    for (std::size_t i = 0; i < thin.size(); ++i)
        thin_mean += thin.count(i) / thin.total_count() * thin.positions[i];
    EXPECT_LT((mean - thin_mean).norm(), 1e-12);
    EXPECT_LT(thin.size(), 500u);
}

TEST(RobustDiagonal, DoesNotMindLonePoints) {
    PointSet points = sphere(1, 10000, 0);
    const double size = robust_diagonal(points);
    EXPECT_NEAR(size, 2 * 0.96 * std::sqrt(3.0), 0.05);
    points.positions.emplace_back(1000, 0, 0);
    EXPECT_NEAR(robust_diagonal(points), size, 0.01);
    EXPECT_EQ(robust_diagonal({}), 0);
}

TEST(PlaneSum, FindsATiltedPlane) {
    std::mt19937 dice(1);
    std::uniform_real_distribution<double> uniform(-1, 1);
    const Vec3 normal = Vec3(1, 2, 3).normalized(), u = normal.unitOrthogonal(), v = normal.cross(u);
    PlaneSum sum(Vec3(1000, 0, 0));
    for (int i = 0; i < 1000; ++i) {
        const double a = uniform(dice), b = uniform(dice);
        sum.add(Vec3(1000, 0, 0) + 2 * a * u + b * v + 0.25 * normal, 3);
    }
    const PlaneFit fit = sum.fit();
    EXPECT_NEAR(std::abs(fit.normal.dot(normal)), 1, 1e-9);
    EXPECT_NEAR(fit.thickness, 0, 1e-5);
    EXPECT_NEAR(fit.width, std::sqrt(1.0 / 3), 0.02);
    EXPECT_NEAR(normal.dot(fit.middle - Vec3(1000, 0, 0)), 0.25, 1e-9);
    EXPECT_DOUBLE_EQ(fit.weight, 3000);
}

TEST(Survey, FindsNoiseAndSpacing) {
    for (const double noise : {0.0005, 0.002}) {
        const SurfaceSurvey found = survey(sphere(0.1, 40000, noise), 0.01);
        EXPECT_NEAR(found.noise, noise, 0.12 * noise);
        EXPECT_NEAR(found.spacing, std::sqrt(4 * M_PI * 0.01 / 40000), 1e-4);
    }
}

TEST(Survey, GrowsPatchesOnSparsePoints) {
    const SurfaceSurvey found = survey(sphere(0.1, 1000, 0), 0.001);
    EXPECT_NEAR(found.spacing, std::sqrt(4 * M_PI * 0.01 / 1000), 2e-3);
}

TEST(Survey, TooFewPointsTellNothing) {
    EXPECT_EQ(survey(sphere(1, 10, 0), 0.1).spacing, 0);
}

}  // namespace
}  // namespace evenspit::scan
