// SPDX-License-Identifier: MIT
#include "rig/plane_face.h"

#include <algorithm>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

CookerSurface plane(const Vec3& point, const Vec3& normal) {
    return {.name = "wall", .shape = PlaneShape{point, normal}, .temperature_k = {}};
}

/// A pit from x = 0.1 to 0.7 m, 0.4 m wide, under a lid 0.2 m over the rod.
Cooker pit() {
    Cooker cooker;
    cooker.surfaces = {plane({0, -0.2, 0}, Vec3::UnitY()), plane({0, 0.2, 0}, -Vec3::UnitY()),
                       plane({0.1, 0, 0}, Vec3::UnitX()), plane({0.7, 0, 0}, -Vec3::UnitX()),
                       plane({0, 0, 0.2}, -Vec3::UnitZ())};
    return cooker;
}

TEST(PlaneFace, EndsWhereTheOtherWallsBegin) {
    const std::vector<Vec3> front = plane_face(pit(), 0, {0.4, 0, 0}, 0.9);
    ASSERT_EQ(front.size(), 4U);
    double from = 9, to = -9, low = 9, high = -9;
    for (const Vec3& p : front) {
        EXPECT_NEAR(p.y(), -0.2, 1e-12);
        from = std::min(from, p.x());
        to = std::max(to, p.x());
        low = std::min(low, p.z());
        high = std::max(high, p.z());
    }
    EXPECT_NEAR(from, 0.1, 1e-12);
    EXPECT_NEAR(to, 0.7, 1e-12);
    EXPECT_NEAR(high, 0.2, 1e-12);
    EXPECT_NEAR(low, -0.9, 1e-12) << "no floor: as far as asked";
}

TEST(PlaneFace, LooksToItsFreeSide) {
    for (std::size_t s = 0; s < 5; ++s) {
        const std::vector<Vec3> face = plane_face(pit(), s, {0.4, 0, 0}, 0.9);
        const Vec3 out = (face[1] - face[0]).cross(face[2] - face[0]).normalized();
        const auto shape = std::get<PlaneShape>(pit().surfaces[s].shape);
        EXPECT_NEAR(out.dot(shape.normal), 1, 1e-12);
    }
}

TEST(PlaneFace, APlaneThatTurnsItsBackToTheRodCutsNothing) {
    Cooker cooker = pit();
    cooker.surfaces[3] = plane({0.7, 0, 0}, Vec3::UnitX());
    double to = 0;
    for (const Vec3& p : plane_face(cooker, 0, {0.4, 0, 0}, 0.9)) to = std::max(to, p.x());
    EXPECT_NEAR(to, 1.3, 1e-12);
}

}  // namespace
}  // namespace evenspit
