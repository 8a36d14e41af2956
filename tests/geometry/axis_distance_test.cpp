// SPDX-License-Identifier: MIT
#include "geometry/axis_distance.h"

#include <cmath>

#include <gtest/gtest.h>

#include "support/meshes.h"

namespace evenspit {
namespace {

constexpr double step_m = 0.004;

double at(const std::vector<Vec2>& line, double x) {
    for (const Vec2& point : line) {
        if (std::abs(point.x() - x) < 0.003) return point.y();
    }
    return -1;
}

TEST(AxisDistance, BoxesAndPlanes) {
    const auto box = axis_distance(BoxShape{{0.2, -0.1, -0.3}, {0.5, 0.1, -0.22}}, 0, 0.7, step_m);
    EXPECT_NEAR(at(box, 0.3), 0.22, 1e-12);
    EXPECT_EQ(at(box, 0.1), -1) << "nothing there";
    const auto aside = axis_distance(BoxShape{{0.2, 0.03, 0.04}, {0.5, 0.2, 0.2}}, 0, 0.7, step_m);
    EXPECT_NEAR(at(aside, 0.3), 0.05, 1e-12);
    const auto plane = axis_distance(PlaneShape{{0, 0, -0.4}, Vec3::UnitZ()}, 0, 0.7, step_m);
    EXPECT_NEAR(at(plane, 0.6), 0.4, 1e-12);
    EXPECT_TRUE(axis_distance(PlaneShape{{0.7, 0, 0}, -Vec3::UnitX()}, 0, 0.7, step_m).empty())
        << "across the rod";
}

TEST(AxisDistance, RevolvedLikeASphere) {
    RevolvedShape sphere{{0.34, 0, 0}, {}};
    for (int i = 0; i <= 60; ++i) {
        const double slope = (i - 30) * 3.14159265358979 / 60;
        sphere.profile.emplace_back(0.3 * std::cos(slope), 0.3 * std::sin(slope));
    }
    const auto line = axis_distance(sphere, 0, 0.7, step_m);
    for (const double x : {0.2, 0.34, 0.5}) {
        const Vec2 near = *std::min_element(line.begin(), line.end(), [x](const Vec2& a, const Vec2& b) {
            return std::abs(a.x() - x) < std::abs(b.x() - x);
        });
        EXPECT_NEAR(near.y(), std::sqrt(0.09 - (near.x() - 0.34) * (near.x() - 0.34)), 2e-3);
    }
}

TEST(AxisDistance, MeshesLikeTheirBox) {
    const auto mesh =
        std::make_shared<const TriangleMesh>(test::box_mesh({0.2, -0.1, -0.3}, {0.5, 0.1, -0.22}));
    EXPECT_NEAR(at(axis_distance(MeshShape{mesh}, 0, 0.7, step_m), 0.3), 0.22, 1e-9);
}

}  // namespace
}  // namespace evenspit
