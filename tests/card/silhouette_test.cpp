// SPDX-License-Identifier: MIT
#include "card/silhouette.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "support/meshes.h"

namespace evenspit::card {
namespace {

double area_of(const std::vector<Vec2>& ring) {
    double twice = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
        twice += a.x() * b.y() - a.y() * b.x();
    }
    return twice / 2;
}

Eigen::AlignedBox2d around(const std::vector<Vec2>& ring) {
    Eigen::AlignedBox2d box;
    for (const Vec2& p : ring) box.extend(p);
    return box;
}

TEST(Silhouette, OfAnEllipsoidIsItsEllipse) {
    constexpr double cell = 0.0005;
    const auto mesh = test::ellipsoid_mesh(0.15, 0.08, 0.06, Vec3(0.3, 0.02, -0.01));
    for (const LookedAt from : {LookedAt::from_front, LookedAt::from_point}) {
        const auto rings = silhouette({mesh}, from, cell);
        ASSERT_EQ(rings.size(), 1U);
        const double across = from == LookedAt::from_front ? 0.15 : 0.08;
        EXPECT_NEAR(area_of(rings[0]), std::numbers::pi * across * 0.06,
                    0.01 * std::numbers::pi * across * 0.06);
        const Vec2 middle = around(rings[0]).center();
        EXPECT_NEAR(middle.x(), from == LookedAt::from_front ? 0.3 : 0.02, 2 * cell);
        EXPECT_NEAR(middle.y(), -0.01, 2 * cell);
        EXPECT_NEAR(around(rings[0]).sizes().x(), 2 * across, 4 * cell);
        EXPECT_LT(rings[0].size(), 300U) << "straight stretches have no corners";
    }
}

TEST(Silhouette, TwoBodiesApartHaveTwoLines) {
    const auto a = test::ellipsoid_mesh(0.05, 0.05, 0.05, Vec3(0, 0, 0)),
               b = test::ellipsoid_mesh(0.05, 0.05, 0.05, Vec3(0.2, 0, 0));
    EXPECT_EQ(silhouette({a, b}, LookedAt::from_front, 0.001).size(), 2U);
    EXPECT_EQ(silhouette({a, b}, LookedAt::from_point, 0.001).size(), 1U) << "one behind the other";
}

TEST(Silhouette, NothingHasNoLine) {
    EXPECT_TRUE(silhouette({}, LookedAt::from_front, 0.001).empty());
    EXPECT_TRUE(silhouette({TriangleMesh{}}, LookedAt::from_front, 0.001).empty());
}

}  // namespace
}  // namespace evenspit::card
