// SPDX-License-Identifier: MIT
#include "scan/sampling.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "support/meshes.h"

namespace evenspit::scan {
namespace {

TEST(Sampled, CloudStaysAsItIs) {
    ScanFile scan;
    scan.mesh.vertices = {{1, 2, 3}, {4, 5, 6}};
    scan.normals = {Vec3::UnitX(), Vec3::UnitY()};
    const PointSet points = sampled(scan);
    EXPECT_EQ(points.positions, scan.mesh.vertices);
    EXPECT_EQ(points.normals, scan.normals);
}

TEST(Sampled, OfAHugeCloudEveryNthPointIsTaken) {
    ScanFile scan;
    scan.mesh.vertices.resize(4000000, Vec3(1, 2, 3));
    scan.normals.resize(scan.mesh.vertices.size(), Vec3::UnitX());
    const PointSet points = sampled(scan);
    EXPECT_NEAR(double(points.size()), 1.5e6, 1);
    EXPECT_EQ(points.normals.size(), points.size());
}

TEST(Sampled, LargeTrianglesAreSplitEvenly) {
    ScanFile scan;
    scan.mesh = test::box_mesh({0, 0, 0}, {2, 1, 1});
    const PointSet points = sampled(scan);
    ASSERT_EQ(points.normals.size(), points.size());
    // On the faces, facing out, and as many on each as its share of the area.
    std::size_t top = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3 q = (points.positions[i] - Vec3(1, 0.5, 0.5)).cwiseQuotient(Vec3(1, 0.5, 0.5));
        EXPECT_NEAR(q.cwiseAbs().maxCoeff(), 1, 1e-12);
        EXPECT_GT(q.dot(points.normals[i]), 0.99);
        top += points.normals[i].z() > 0.9;
    }
    EXPECT_NEAR(double(top) / double(points.size()), 2.0 / 10, 0.01);
}

TEST(Sampled, TrianglesOfNoAreaGiveNothing) {
    ScanFile scan;
    scan.mesh.vertices = {{0, 0, 0}, {1, 0, 0}, {2, 0, 0}};
    scan.mesh.triangles = {{0, 1, 2}};
    EXPECT_TRUE(sampled(scan).empty());
}

}  // namespace
}  // namespace evenspit::scan
