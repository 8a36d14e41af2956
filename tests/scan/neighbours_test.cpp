// SPDX-License-Identifier: MIT
#include "scan/neighbours.h"

#include <algorithm>
#include <random>
#include <stdexcept>

#include <gtest/gtest.h>

#include "scan/nearest.h"

namespace evenspit::scan {
namespace {

std::vector<Vec3> random_points(std::size_t n) {
    std::mt19937 dice(3);
    std::uniform_real_distribution<double> uniform(-1, 1);
    std::vector<Vec3> points;
    for (std::size_t i = 0; i < n; ++i) points.emplace_back(uniform(dice), uniform(dice), uniform(dice));
    return points;
}

TEST(NeighbourGrid, FindsWhatALookAtEveryPointFinds) {
    const std::vector<Vec3> points = random_points(2000);
    const NeighbourGrid grid(points, 0.11);
    for (const double radius : {0.05, 0.11, 0.4}) {
        for (const Vec3& place : random_points(50)) {
            std::vector<std::size_t> expected, found;
            for (std::size_t i = 0; i < points.size(); ++i) {
                if ((points[i] - place).norm() <= radius) expected.push_back(i);
            }
            grid.for_each_within(place, radius, [&](std::size_t i, double square) {
                EXPECT_NEAR(square, (points[i] - place).squaredNorm(), 1e-12);
                found.push_back(i);
            });
            std::sort(found.begin(), found.end());
            EXPECT_EQ(found, expected);
            EXPECT_EQ(grid.count_within(place, radius), expected.size());
        }
    }
}

TEST(NeighbourGrid, PointsFarAwayDoNotSpoilIt) {
    std::vector<Vec3> points = random_points(100);
    points.emplace_back(1e9, -1e9, 1e9);
    const NeighbourGrid grid(points, 0.1);
    EXPECT_EQ(grid.count_within(points.back(), 0.1), 1u);
    EXPECT_GE(grid.count_within(points[7], 0.1), 1u);
}

TEST(NeighbourGrid, NoPointsNoNeighbours) {
    EXPECT_EQ(NeighbourGrid({}, 1).count_within(Vec3::Zero(), 10), 0u);
}

TEST(NeighbourGrid, RefusesACellOfNothing) {
    EXPECT_THROW(NeighbourGrid({Vec3::Zero()}, 0), std::invalid_argument);
}

TEST(NearestPoints, NearestIsTheNearestWithinReach) {
    const std::vector<Vec3> points = random_points(500);
    const NearestPoints tree(points);
    for (const Vec3& near : random_points(50)) {
        const Vec3 place = near + Vec3(0.013, 0.007, -0.011);
        std::size_t best = 0;
        for (std::size_t i = 1; i < points.size(); ++i) {
            if ((points[i] - place).norm() < (points[best] - place).norm()) best = i;
        }
        EXPECT_EQ(tree.within(place, 4), std::ptrdiff_t(best));
        EXPECT_EQ(tree.within(place, 0.99 * (points[best] - place).norm()), -1);
    }
}

TEST(NearestPoints, OfSeveralTheFirstAndWhatLiesAtTheEndOfReach) {
    std::vector<Vec3> points(40, Vec3(1, 2, 3));
    points.insert(points.begin(), Vec3(5, 5, 5));
    const NearestPoints tree(points);
    EXPECT_EQ(tree.within(Vec3(1, 2, 3), 0), 1);
    EXPECT_EQ(tree.within(Vec3(1, 2, 4), 1), 1);
    EXPECT_EQ(tree.within(Vec3(1, 2, 4), 0.99), -1);
    EXPECT_EQ(NearestPoints({}).within(Vec3::Zero(), 10), -1);
}

}  // namespace
}  // namespace evenspit::scan
