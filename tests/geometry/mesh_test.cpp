// SPDX-License-Identifier: MIT
#include "geometry/mesh.h"

#include <gtest/gtest.h>

#include "support/meshes.h"

namespace evenspit {
namespace {

using test::box_mesh;

TEST(Mesh, BoundsHoldAllVertices) {
    const Box3 box = bounds(box_mesh({-1, 2, 3}, {4, 5, 6}));
    EXPECT_EQ(box.min(), Vec3(-1, 2, 3));
    EXPECT_EQ(box.max(), Vec3(4, 5, 6));
}

TEST(Mesh, BoundsOfNothingAreEmpty) {
    EXPECT_TRUE(bounds(TriangleMesh{}).isEmpty());
}

TEST(Mesh, MovesRigidly) {
    // A quarter turn about z takes x to y.
    const Pose pose = Eigen::Translation3d(10, 0, 0) * Eigen::AngleAxisd(std::numbers::pi / 2, Vec3::UnitZ());
    const TriangleMesh moved = transformed(box_mesh({0, 0, 0}, {1, 2, 3}), pose);
    EXPECT_TRUE(moved.vertices[1].isApprox(Vec3(10, 1, 0), 1e-15));
    EXPECT_TRUE(moved.vertices[2].isApprox(Vec3(8, 0, 0), 1e-15));
    EXPECT_EQ(moved.triangles, box_mesh({0, 0, 0}, {1, 2, 3}).triangles);
}

TEST(Mesh, Scales) {
    EXPECT_EQ(scaled(box_mesh({-1, 2, 3}, {4, 5, 6}), 0.5).vertices,
              box_mesh({-0.5, 1, 1.5}, {2, 2.5, 3}).vertices);
}

}  // namespace
}  // namespace evenspit
