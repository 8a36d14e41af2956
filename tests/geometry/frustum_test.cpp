// SPDX-License-Identifier: MIT
#include "geometry/frustum.h"

#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <random>
#include <stdexcept>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

constexpr Frustum cone{.x0 = 0, .z0 = 0, .r0 = 0.04, .x1 = 0.1, .z1 = 0, .r1 = 0.02, .part = 0};

void expect_near(const Vec3& a, const Vec3& b, double tolerance) {
    EXPECT_LE((a - b).norm(), tolerance) << a.transpose() << " against " << b.transpose();
}

bool holds(const Frustum& f, const Vec3& p, double tolerance) {
    return p.x() >= f.x0 - tolerance && p.x() <= f.x1 + tolerance &&
           std::hypot(p.y(), p.z() - f.height_at(p.x())) <= f.radius_at(p.x()) + tolerance;
}

Frustum any_frustum(std::mt19937& random) {
    std::uniform_real_distribution<double> unit(0, 1);
    Frustum f{.x0 = unit(random) - 0.5, .z0 = 0.02 * unit(random), .r0 = 0.1 * unit(random), .part = 0};
    f.x1 = f.x0 + 0.05 * unit(random);
    f.z1 = f.z0 + 0.1 * (f.x1 - f.x0) * (unit(random) - 0.5);
    f.r1 = 0.1 * unit(random);
    return f;
}

TEST(Frustum, NearestPointOfEachFeature) {
    expect_near(nearest_point(cone, {-0.03, 0.01, -0.02}), {0, 0.01, -0.02}, 0);  // first end face
    expect_near(nearest_point(cone, {0.2, 0, 0.02}), {0.1, 0, 0.02}, 0);          // second, at its rim
    expect_near(nearest_point(cone, {-0.01, 0, 0.08}), {0, 0, 0.04}, 1e-15);      // first rim
    expect_near(nearest_point(cone, {0.2, -0.03, 0}), {0.1, -0.02, 0}, 1e-15);    // second rim
    expect_near(nearest_point(cone, {0.05, 0.01, 0.01}), {0.05, 0.01, 0.01}, 0);  // inside
    const Vec3 out = Vec3(0.02, 0, 0.1).normalized();                             // mantle
    expect_near(nearest_point(cone, Vec3(0.05, 0, 0.03) + 0.01 * out), {0.05, 0, 0.03}, 1e-14);
}

TEST(Frustum, NearestPointOfAPointALineAndADisc) {
    const Frustum point{.x0 = 1, .x1 = 1};
    expect_near(nearest_point(point, {0, 0, 0}), {1, 0, 0}, 0);
    const Frustum line{.x0 = 0, .x1 = 1};
    expect_near(nearest_point(line, {0.3, 0.1, 0}), {0.3, 0, 0}, 1e-15);
    const Frustum disc{.x0 = 1, .r0 = 0.5, .x1 = 1, .r1 = 0.5};
    expect_near(nearest_point(disc, {0.9, 0.2, 0}), {1, 0.2, 0}, 0);
    expect_near(nearest_point(disc, {1, 0, -2}), {1, 0, -0.5}, 1e-15);
}

TEST(Frustum, NearestPointLiesInsideAndASupportingPlaneProvesItNearest) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> unit(-1, 1);
    for (int i = 0; i < 20000; ++i) {
        const Frustum f = any_frustum(random);
        const Vec3 q(unit(random), 0.3 * unit(random), 0.3 * unit(random));
        const Vec3 p = nearest_point(f, q);
        ASSERT_TRUE(holds(f, p, 1e-13));
        const double distance = (q - p).norm();
        if (distance == 0) continue;
        const Vec3 w = (q - p) / distance;
        // The plane across w through p leaves the whole frustum behind it, so nothing of it is nearer.
        ASSERT_GE(w.dot(q) - reach(f, w), distance - 1e-11);
    }
}

TEST(Frustum, ReachIsTheGreatestProjection) {
    EXPECT_EQ(reach(cone, Vec3::UnitX()), 0.1);
    EXPECT_EQ(reach(cone, -Vec3::UnitX()), 0);
    EXPECT_EQ(reach(cone, Vec3::UnitY()), 0.04);
    const Frustum low{.x0 = 0, .z0 = -0.01, .r0 = 0.02, .x1 = 0.1, .z1 = -0.02, .r1 = 0.02};
    EXPECT_NEAR(reach(low, -Vec3::UnitZ()), 0.04, 1e-17);
    EXPECT_NEAR(reach(low, Vec3::UnitZ()), 0.01, 1e-17);
}

TEST(Lowered, StraightSagCutsNothing) {
    const Outline outline = sweep({}, {{.x0 = 0, .x1 = 0.7, .radius = 0.01}});
    EXPECT_EQ(lowered(outline, [](double) { return 0.0; }).size(), 1u);
    const std::vector<Frustum> tilted = lowered(outline, [](double x) { return 0.01 * x; });
    ASSERT_EQ(tilted.size(), 1u);
    EXPECT_NEAR(tilted[0].z1, -0.007, 1e-17);
}

TEST(Lowered, FollowsACurvedSag) {
    const Outline outline = sweep({}, {{.x0 = 0, .x1 = 0.7, .radius = 0.01}});
    const auto sag = [](double x) { return 0.004 * std::sin(std::numbers::pi * x / 0.7); };
    const std::vector<Frustum> pieces = lowered(outline, sag);
    EXPECT_LT(pieces.size(), 2000u);
    EXPECT_EQ(pieces.front().x0, 0);
    EXPECT_EQ(pieces.back().x1, 0.7);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (i > 0) {
            EXPECT_EQ(pieces[i - 1].x1, pieces[i].x0);
        }
        for (double t = 0; t <= 1; t += 0.1) {
            const double x = std::lerp(pieces[i].x0, pieces[i].x1, t);
            EXPECT_NEAR(pieces[i].height_at(x), -sag(x), 2e-8);
        }
    }
}

TEST(Lowered, RefusesASagThatIsNotFinite) {
    const Outline outline = sweep({}, {{.x0 = 0, .x1 = 0.7, .radius = 0.01}});
    EXPECT_THROW(lowered(outline, [](double) { return std::numeric_limits<double>::quiet_NaN(); }),
                 std::invalid_argument);
}

TEST(FrustumTree, EveryNodeHoldsWhatIsBelowIt) {
    std::mt19937 random(3);
    std::vector<Frustum> frusta;
    double x = 0;
    for (int i = 0; i < 37; ++i) {
        Frustum f = any_frustum(random);
        const double length = i % 5 == 0 ? 0 : f.x1 - f.x0;
        f.x0 = x;
        f.x1 = x += length;
        if (length == 0) {  // a disc
            f.z1 = f.z0;
            f.r1 = f.r0;
        }
        frusta.push_back(f);
    }
    const FrustumTree tree(frusta);
    // In order of station, so that the leaves below a node come one after another.
    std::size_t leaves = 0;
    const std::function<void(int, std::vector<int>)> visit = [&](int node, std::vector<int> above) {
        above.push_back(node);
        if (!tree.is_leaf(node)) {
            EXPECT_GE(tree.slack(node), 0);
            visit(tree.left(node), above);
            visit(tree.right(node), above);
            return;
        }
        const Frustum& f = tree.hull(node);
        EXPECT_EQ(f.x0, frusta[leaves].x0);
        EXPECT_EQ(f.r1, frusta[leaves].r1);
        ++leaves;
        for (const int holder : above) {
            for (double angle = 0; angle < 6; angle += 0.5) {
                const double y = std::cos(angle), z = std::sin(angle);
                EXPECT_TRUE(holds(tree.hull(holder), {f.x0, f.r0 * y, f.z0 + f.r0 * z}, 1e-14));
                EXPECT_TRUE(holds(tree.hull(holder), {f.x1, f.r1 * y, f.z1 + f.r1 * z}, 1e-14));
            }
        }
    };
    visit(tree.root(), {});
    EXPECT_EQ(leaves, frusta.size());
}

}  // namespace
}  // namespace evenspit
