// SPDX-License-Identifier: MIT
#include "plan/free_radius.h"

#include <gtest/gtest.h>

#include "plan/loads.h"

namespace evenspit::plan {
namespace {

double no_sag(double) {
    return 0;
}
CookerSurface surface(SurfaceShape shape, double keep_m) {
    return {"wall", std::move(shape), false, {}, keep_m};
}

TEST(FreeRadius, IsLargeWithoutSurfaces) {
    EXPECT_GE(FreeRadius({}, 0, 0.8, no_sag).at(0.4), 0.5);
}

TEST(FreeRadius, OverAFloorIsTheHeightLessTheKeep) {
    Cooker cooker;
    cooker.surfaces = {surface(PlaneShape{.point = {0, 0, -0.2}, .normal = Vec3::UnitZ()}, 0.025)};
    const FreeRadius level(cooker, 0, 0.8, no_sag);
    EXPECT_NEAR(level.at(0.333), 0.175, 2e-4);
    const FreeRadius sagged(cooker, 0, 0.8, [](double) { return 0.01; });
    EXPECT_NEAR(sagged.at(0.333), 0.165, 2e-4);
    EXPECT_NEAR(level.at(-1), 0.175, 2e-4) << "beyond the table as at its end";
}

TEST(FreeRadius, KnowsWhatStandsBeside) {
    // A box 200 mm below, from station 300 mm on: before it, a corner that is nearest at a slant.
    Cooker cooker;
    cooker.surfaces = {surface(BoxShape{.min = {0.3, -0.1, -0.3}, .max = {0.6, 0.1, -0.2}}, 0.05)};
    const FreeRadius free(cooker, 0, 0.8, no_sag);
    EXPECT_NEAR(free.at(0.4), 0.15, 2e-4);
    // 30 mm before its end a disc may come within √(50² − 30²) = 40 mm of its height.
    EXPECT_NEAR(free.at(0.27), 0.16, 2e-4);
    EXPECT_GE(free.at(0.1), 0.5);
    EXPECT_NEAR(free.least(0.1, 0.4), 0.15, 2e-4);
}

TEST(FreeRadius, IsNoneInFrontOfASideWallTooNear) {
    Cooker cooker;
    cooker.surfaces = {surface(PlaneShape{.point = {0.1, 0, 0}, .normal = Vec3::UnitX()}, 0.025)};
    const FreeRadius free(cooker, 0, 0.8, no_sag);
    EXPECT_LT(free.at(0.12), 1e-3);
    EXPECT_GE(free.at(0.14), 0.5);
}

TEST(Silhouette, KeepsTheReachOfAnEllipsoid) {
    const body::Body body =
        test::flesh_body(test::ellipsoid_mesh(0.14, 0.08, 0.06, Vec3(0, 0.01, 0), 96, 64), 3);
    const Silhouette silhouette(body);
    const Pose pose(Eigen::Translation3d(0.4, 0, 0));
    EXPECT_NEAR(silhouette.extent(pose)[0], 0.26, 1e-6);
    EXPECT_NEAR(silhouette.extent(pose)[1], 0.54, 1e-6);
    Cooker cooker;
    cooker.surfaces = {surface(PlaneShape{.point = {0, 0, -0.2}, .normal = Vec3::UnitZ()}, 0.025)};
    const FreeRadius free(cooker, 0, 0.8, no_sag);
    EXPECT_NEAR(silhouette.room(pose, free), 0.175 - 0.09, 1e-3);
}

TEST(Silhouette, HoldsSwungLimbs) {
    body::Body body = test::flesh_body(test::ellipsoid_mesh(0.14, 0.08, 0.06, Vec3::Zero()), 3);
    body.swung.push_back({"wing", test::box_mesh({0, 0.05, 0}, {0.02, 0.15, 0.01})});
    Cooker cooker;
    cooker.surfaces = {surface(PlaneShape{.point = {0, 0, -0.2}, .normal = Vec3::UnitZ()}, 0.025)};
    const FreeRadius free(cooker, 0, 0.8, no_sag);
    EXPECT_NEAR(Silhouette(body).room(Pose(Eigen::Translation3d(0.4, 0, 0)), free), 0.175 - 0.15033, 1e-3);
}

}  // namespace
}  // namespace evenspit::plan
