// SPDX-License-Identifier: MIT
#include "body/field.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include <gtest/gtest.h>

namespace evenspit::body {
namespace {

// The solid is the union of the spheres along the axis, so the distance is the least over them of |p − c(s)|
// − r(s) outside. (Inside the same expression is a bound only.)
double by_spheres(const Vec3& a, const Vec3& b, double ra, double rb, const Vec3& p) {
    double least = std::numeric_limits<double>::infinity();
    for (int i = 0; i <= 20000; ++i) {
        const double s = i / 20000.0;
        least = std::min(least, (p - (a + s * (b - a))).norm() - (ra + s * (rb - ra)));
    }
    return least;
}

TEST(RoundCone, IsTheUnionOfItsSpheres) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> u(-1, 1);
    for (int k = 0; k < 60; ++k) {
        const Vec3 a(u(random), u(random), u(random)), b(u(random), u(random), u(random));
        const double ra = 0.3 + 0.25 * u(random), rb = 0.3 + 0.25 * u(random);
        const Vec3 p(2 * u(random), 2 * u(random), 2 * u(random));
        const double expected = by_spheres(a, b, ra, rb, p);
        const double found = RoundCone(a, b, ra, rb).distance(p);
        EXPECT_EQ(found < 0, expected < 0);
        if (expected > 0) {
            EXPECT_NEAR(found, expected, 1e-7);
        }
    }
}

TEST(RoundCone, OneEndMaySwallowTheOther) {
    const RoundCone cone({0, 0, 0}, {0.1, 0, 0}, 0.5, 0.2);
    EXPECT_NEAR(cone.distance({1, 0, 0}), 0.5, 1e-15);
    EXPECT_NEAR(cone.distance({-1, 0, 0}), 0.5, 1e-15);
    const RoundCone point({1, 1, 1}, {1, 1, 1}, 0.5, 0.5);
    EXPECT_NEAR(point.distance({1, 3, 1}), 1.5, 1e-15);
}

TEST(RoundCone, ReachBoundsTheDistance) {
    const RoundCone cone({0, 0, 0}, {1, 0.3, 0}, 0.2, 0.4);
    for (double x = -3; x < 3; x += 0.37) {
        for (double y = -3; y < 3; y += 0.41) {
            const Vec3 p(x, y, 0.2);
            EXPECT_GE(cone.distance(p), (p - cone.hub()).norm() - cone.reach() - 1e-12);
        }
    }
}

template <class Solid>
void expect_bounded(const Solid& solid) {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> u(-3, 3);
    int far = 0;
    for (int k = 0; k < 3000; ++k) {
        const Vec3 p(u(random), u(random), u(random));
        const double least = solid.bound().at(p);
        ASSERT_LE(least, solid.distance(p) + 1e-12);
        far += least > 0 ? 1 : 0;
    }
    EXPECT_GT(far, 1000);  // it tells something
}

// is_beyond() may miss a place, but never err the other way.
template <class Solid>
void expect_beyond_only_where_it_is(const Solid& solid) {
    std::mt19937 random(12);
    std::uniform_real_distribution<double> u(-3, 3);
    int beyond = 0, told = 0;
    for (int k = 0; k < 20000; ++k) {
        const Vec3 p(u(random), u(random), u(random));
        const double least = u(random), distance = solid.distance(p);
        beyond += distance >= least ? 1 : 0;
        told += solid.is_beyond(p, least) ? 1 : 0;
        ASSERT_TRUE(distance >= least || !solid.is_beyond(p, least)) << p.transpose();
        ASSERT_FALSE(solid.is_beyond(p, std::nextafter(distance, 4.0)));
    }
    EXPECT_GT(told, beyond / 2);
}

TEST(Field, IsOnlyBeyondWhereItIs) {
    expect_beyond_only_where_it_is(RoundCone({0, 0, 0}, {1, 0.3, 0}, 0.2, 0.4));
    expect_beyond_only_where_it_is(RoundCone({0.1, 0, 0}, {0.2, 0, 0}, 0.5, 0.2));
    expect_beyond_only_where_it_is(Ellipsoid({0.2, 0, 0.1}, {0.9, 0.5, 0.6}));
    expect_beyond_only_where_it_is(
        Ellipsoid({0.2, 0, 0.1}, {0.9, 0.5, 0.6},
                  Eigen::AngleAxisd(0.6, Vec3(1, 2, 3).normalized()).toRotationMatrix()));
}

TEST(RoundCone, LiesInItsBox) {
    const Box3 box = RoundCone({0, 0, 0}, {1, 0.3, -2}, 0.2, 0.4).box();
    EXPECT_EQ(box.min(), Vec3(-0.2, -0.2, -2.4));
    EXPECT_EQ(box.max(), Vec3(1.4, 0.7, 0.2));
}

TEST(FieldBound, IsBelowTheField) {
    expect_bounded(RoundCone({0, 0, 0}, {1, 0.3, 0}, 0.2, 0.4));
    expect_bounded(Ellipsoid({0.2, 0, 0.1}, {1.2, 0.5, 0.3},
                             Eigen::AngleAxisd(0.6, Vec3(1, 2, 3).normalized()).toRotationMatrix()));
    expect_bounded(RoundBox({0.1, 0.2, 0}, {1, 0.6, 0.4}, 0.3));
    EXPECT_LT(FieldBound{}.at({1, 2, 3}), -1e300);
}

TEST(Ellipsoid, ZeroOnItsSurfaceAndDistanceToFirstOrderNearIt) {
    const Mat3 turn =
        (Eigen::AngleAxisd(0.4, Vec3::UnitX()) * Eigen::AngleAxisd(-0.9, Vec3::UnitZ())).toRotationMatrix();
    const Vec3 centre(0.1, -0.2, 0.3), r(0.15, 0.08, 0.06);
    const Ellipsoid ellipsoid(centre, r, turn);
    for (int i = 0; i < 12; ++i) {
        for (int j = 1; j < 8; ++j) {
            const double u = 2 * std::numbers::pi * i / 12, v = std::numbers::pi * j / 8;
            const Vec3 unit(std::cos(v), std::sin(v) * std::cos(u), std::sin(v) * std::sin(u));
            const Vec3 on = centre + turn * r.cwiseProduct(unit);
            const Vec3 normal = (turn * unit.cwiseQuotient(r)).normalized();
            EXPECT_NEAR(ellipsoid.distance(on), 0, 1e-15);
            EXPECT_NEAR(ellipsoid.distance(on + 1e-5 * normal), 1e-5, 1e-8);
            EXPECT_NEAR(ellipsoid.distance(on - 1e-5 * normal), -1e-5, 1e-8);
        }
    }
    EXPECT_LT(ellipsoid.distance(centre), 0);
}

// The mesher's block culling relies on it. Nearest of many points on the surface: no less than the true
// distance.
TEST(Ellipsoid, AtMostTheDistanceTimesTheRatioOfItsAxes) {
    const Vec3 r(0.15, 0.08, 0.05);
    const Ellipsoid ellipsoid(Vec3::Zero(), r);
    std::mt19937 random(11);
    std::uniform_real_distribution<double> u(-0.3, 0.3);
    for (int k = 0; k < 200; ++k) {
        const Vec3 p(u(random), u(random), u(random));
        double nearest = std::numeric_limits<double>::infinity();
        for (int i = 0; i < 80; ++i) {
            for (int j = 0; j <= 40; ++j) {
                const double a = 2 * std::numbers::pi * i / 80, b = std::numbers::pi * j / 40;
                const Vec3 unit(std::cos(b), std::sin(b) * std::cos(a), std::sin(b) * std::sin(a));
                nearest = std::min(nearest, (p - r.cwiseProduct(unit)).norm());
            }
        }
        EXPECT_LE(std::abs(ellipsoid.distance(p)), nearest * r.x() / r.z());
    }
}

TEST(RoundBox, IsTheBoxSweptByItsRounding) {
    const RoundBox box({0.1, 0, 0}, {0.3, 0.2, 0.1}, 0.05);
    EXPECT_NEAR(box.distance({0.5, 0, 0}), 0.1, 1e-15);
    EXPECT_NEAR(box.distance({0.1, 0, 0}), -0.1, 1e-15);
    // Off a corner: from the corner of the core, less the rounding.
    EXPECT_NEAR(box.distance({0.35 + 0.3, 0.15 + 0.2, 0.05 + 0.1}), std::sqrt(0.14) - 0.05, 1e-15);
}

TEST(Blend, IsTheMinimumAwayFromTheFillet) {
    EXPECT_EQ(blend(0.1, 0.5, 0.2), 0.1);
    EXPECT_EQ(blend(0.5, 0.1, 0.2), 0.1);
    EXPECT_EQ(blend(0.1, 0.3, 0.2), 0.1);
    EXPECT_NEAR(blend(0.1, 0.1, 0.2), 0.1 - 0.2 / 4, 1e-15);
    EXPECT_EQ(carve(-0.5, 0.1, 0.2), -0.1);  // inside the solid, 0.1 outside the tool: its wall is nearest
}

}  // namespace
}  // namespace evenspit::body
