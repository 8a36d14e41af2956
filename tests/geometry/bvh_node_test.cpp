// SPDX-License-Identifier: MIT
// Boxes in float must never lose what is told in double.
#include "geometry/bvh_node.h"

#include <cmath>
#include <limits>
#include <stdexcept>

#include <gtest/gtest.h>

#include "geometry/bvh.h"
#include "shapes.h"

namespace evenspit {
namespace {

using test::random_point;

TEST(BvhNode, HoldsWhatIsPutIntoIt) {
    std::mt19937 random{4};
    std::uniform_real_distribution<double> power(-60, 14);
    for (int n = 0; n < 20'000; ++n) {
        Box3 box(Vec3(std::pow(10, power(random)) * random_point(random, 1)));
        box.extend(Vec3(std::pow(10, power(random)) * random_point(random, 1)));
        BvhNode node;
        node.add(box, 3, 2, n % 2 == 0);
        EXPECT_TRUE(node.box(0).contains(box));
        // No more than is needed to be sure of that.
        const double furthest = std::max(box.min().cwiseAbs().maxCoeff(), box.max().cwiseAbs().maxCoeff());
        EXPECT_LE((node.box(0).sizes() - box.sizes()).maxCoeff(), 5e-7 * furthest + 1e-37);
        EXPECT_EQ(node.has_outer(0), n % 2 == 0);
    }
}

TEST(BvhNode, KeepsEightApart) {
    BvhNode node;
    for (int k = 0; k < 8; ++k) {
        const Vec3 corner(k, -k, 2 * k);
        node.add({corner, corner + Vec3::Ones()}, k, std::uint8_t(k % 3), k == 2 || k == 7);
    }
    ASSERT_EQ(node.children, 8);
    for (std::size_t k = 0; k < 8; ++k) {
        EXPECT_NEAR(node.box(k).min().x(), double(k), 1e-5);
        EXPECT_NEAR(node.box(k).max().z(), 2.0 * double(k) + 1, 1e-5);
        EXPECT_EQ(node.first[k], int(k));
        EXPECT_EQ(node.count[k], k % 3);
        EXPECT_EQ(node.has_outer(k), k == 2 || k == 7);
    }
}

// Where floats tell the corners of a box no longer apart, all of them are looked into.
TEST(SolidQueries, FromAKilometreAway) {
    std::mt19937 random{11};
    for (const double size : {1e-4, 0.2}) {
        const TriangleMesh mesh = scaled(test::wavy_mesh(30, 30), size);
        const SolidQueries queries(mesh);
        for (int n = 0; n < 40; ++n) {
            const Vec3 start = 1000 * random_point(random, 1).normalized();
            const Vec3 goal = size * 0.03 * random_point(random, 1);
            const Vec3 direction = (goal - start).normalized();
            const std::vector<Interval> inside = queries.inside(start, start + 2000 * direction);
            ASSERT_FALSE(inside.empty()) << size;
            const double rounding = 1e-12 * 1000;
            EXPECT_NEAR(queries.first_hit(start, direction).distance, inside.front().from, 10 * rounding);

            double nearest = std::numeric_limits<double>::infinity();
            for (const Vec3& corner : mesh.vertices) nearest = std::min(nearest, (corner - start).norm());
            const double found = queries.closest(start).distance;
            EXPECT_LE(found, nearest + rounding);
            EXPECT_GE(found, nearest - 0.05 * size);  // a triangle's middle lies that near at most
        }
    }
}

TEST(SolidQueries, BesideALineThatBeginsFarAway) {
    const SolidQueries queries(test::box_mesh(Vec3(0, 0, 0), Vec3(0.001, 0.001, 0.001)));
    EXPECT_NEAR(queries.distance_beside({-800, 0.003, 0.0005}, Vec3::UnitX(), 0, 1600), 0.002, 1e-9);
    EXPECT_NEAR(queries.distance_beside({-800, 0.003, 0.0005}, Vec3::UnitX(), 800.0005, 1600), 0.002, 1e-9);
    EXPECT_TRUE(std::isinf(queries.distance_beside({-800, 0.003, 0.0005}, Vec3::UnitX(), 0, 799.9)));
    EXPECT_NEAR(queries.distance_beside({-800, 0.003, 0.0005}, Vec3::UnitX(),
                                        -std::numeric_limits<double>::infinity(),
                                        std::numeric_limits<double>::infinity()),
                0.002, 1e-9);
}

TEST(SolidQueries, ExtentIsThatOfTheFurthestCorners) {
    std::mt19937 random{6};
    for (const Vec3& away : {Vec3(0, 0, 0), Vec3(3, -40, 700)}) {
        TriangleMesh mesh = test::wavy_mesh(40, 40);
        for (Vec3& corner : mesh.vertices) corner += away;
        const SolidQueries queries(mesh);
        for (int n = 0; n < 200; ++n) {
            const Vec3 way = random_point(random, 1).normalized();
            Interval expected{std::numeric_limits<double>::infinity(),
                              -std::numeric_limits<double>::infinity()};
            for (const Vec3& corner : mesh.vertices) {
                expected.from = std::min(expected.from, way.dot(corner));
                expected.to = std::max(expected.to, way.dot(corner));
            }
            EXPECT_EQ(queries.extent(way).from, expected.from);
            EXPECT_EQ(queries.extent(way).to, expected.to);
        }
    }
}

TEST(SolidQueries, RefusesCornersBeyondAllMeasure) {
    TriangleMesh mesh = test::box_mesh(Vec3(0, 0, 0), Vec3(1, 1, 1));
    mesh.vertices[3] *= 1e16;
    EXPECT_THROW(SolidQueries{mesh}, std::invalid_argument);
}

}  // namespace
}  // namespace evenspit
