// SPDX-License-Identifier: MIT
#include "scene/shape_mesh.h"

#include <gtest/gtest.h>

#include "geometry/moments.h"
#include "support/meshes.h"

namespace evenspit::scene {
namespace {

TriangleMesh as_mesh(const ShapeMesh& shape) {
    TriangleMesh mesh;
    for (const ShapeMesh::Corner& c : shape.corners) mesh.vertices.emplace_back(c.at[0], c.at[1], c.at[2]);
    for (std::size_t i = 0; i < shape.triangles.size(); i += 3) {
        mesh.triangles.push_back(
            {int(shape.triangles[i]), int(shape.triangles[i + 1]), int(shape.triangles[i + 2])});
    }
    return mesh;
}

/// How much of the surface looks the way its normals say.
double agreement(const ShapeMesh& shape) {
    double with = 0, all = 0;
    for (std::size_t i = 0; i < shape.triangles.size(); i += 3) {
        const auto corner = [&](std::size_t k) {
            const auto& at = shape.corners[shape.triangles[i + k]].at;
            return Vec3(at[0], at[1], at[2]);
        };
        const auto& n = shape.corners[shape.triangles[i]].normal;
        const Vec3 across = (corner(1) - corner(0)).cross(corner(2) - corner(0));
        all += across.norm();
        if (across.dot(Vec3(n[0], n[1], n[2])) > 0) with += across.norm();
    }
    return with / all;
}

TEST(ShapeMesh, SmallBodiesAreDrawnAsTheyAre) {
    const TriangleMesh ball = test::ellipsoid_mesh(0.1, 0.1, 0.1, Vec3::Zero());
    const ShapeMesh shape = drawn_mesh(ball);
    EXPECT_EQ(shape.triangle_count(), ball.triangles.size());
    for (const ShapeMesh::Corner& c : shape.corners) {
        const Vec3 at(c.at[0], c.at[1], c.at[2]), normal(c.normal[0], c.normal[1], c.normal[2]);
        EXPECT_GT(normal.dot(at.normalized()), 0.99) << "outward";
    }
}

TEST(ShapeMesh, LargeBodiesAreThinnedAndKeepTheirShape) {
    const TriangleMesh ball = test::ellipsoid_mesh(0.15, 0.1, 0.08, Vec3(1, 0, 0), 400, 300);
    const ShapeMesh shape = drawn_mesh(ball, 20'000);
    EXPECT_LE(shape.triangle_count(), 20'000U);
    EXPECT_GT(shape.triangle_count(), 8'000U);
    EXPECT_NEAR(volume_moments(as_mesh(shape)).amount / volume_moments(ball).amount, 1, 0.01);
}

TEST(ShapeMesh, ACoarserCopyOfItsOwnCornersKeepsTheShape) {
    const TriangleMesh ball = test::ellipsoid_mesh(0.15, 0.1, 0.08, Vec3(1, 0, 0), 200, 150);
    ShapeMesh shape = drawn_mesh(ball);
    EXPECT_EQ(shape.triangle_count(), ball.triangles.size());
    EXPECT_LE(shape.few.size(), 3 * most_hurried_triangles);
    EXPECT_GT(shape.few.size(), most_hurried_triangles);
    shape.triangles = shape.few;
    EXPECT_NEAR(volume_moments(as_mesh(shape)).amount / volume_moments(ball).amount, 1, 0.02);
    EXPECT_TRUE(drawn_mesh(test::ellipsoid_mesh(0.1, 0.1, 0.1, Vec3::Zero())).few.empty());
}

TEST(ShapeMesh, BuiltShapesLookOutwardAndHaveTheirSize) {
    ShapeBuilder builder;
    builder.box({0, 0, 0}, {0.1, 0.2, 0.3});
    SharedShape shape = builder.take();
    EXPECT_NEAR(volume_moments(as_mesh(*shape)).amount, 0.006, 1e-8);
    EXPECT_EQ(agreement(*shape), 1);
    for (const Section section : {Section::square, Section::hexagon, Section::round}) {
        builder.bar({0.1, 0, 0}, {0.3, 0, 0}, section, 0.01);
        shape = builder.take();
        const double expected = 0.2 * section_properties(section, 0.01).area_m2;
        EXPECT_NEAR(volume_moments(as_mesh(*shape)).amount / expected, 1, 0.02) << static_cast<int>(section);
        EXPECT_EQ(agreement(*shape), 1);
    }
    builder.ball({1, 2, 3}, 0.1, 16);
    shape = builder.take();
    EXPECT_NEAR(volume_moments(as_mesh(*shape)).amount, 4.18879e-3, 1e-4);
    EXPECT_GT(agreement(*shape), 0.999);
    builder.turned_about_x({{0, 0}, {0, 0.1}, {0.3, 0.1}, {0.3, 0}});
    shape = builder.take();
    EXPECT_NEAR(volume_moments(as_mesh(*shape)).amount, 0.3 * 3.14159e-2, 1e-4);
    EXPECT_GT(agreement(*shape), 0.999);
    builder.pin({0, 0, 0}, {0, 0, 0.1}, 0.01, 0.02);
    shape = builder.take();
    EXPECT_GT(agreement(*shape), 0.999);
    builder.lump({0, 0, 0}, 0.02, 7);
    shape = builder.take();
    EXPECT_GT(volume_moments(as_mesh(*shape)).amount, 0);
}

TEST(ShapeMesh, WallsAreCutOpenTowardTheFront) {
    ShapeBuilder builder;
    builder.half_wall({{0.1, -0.3}, {0.25, -0.1}, {0.25, 0.1}}, 0.01);
    const SharedShape shape = builder.take();
    bool cut_face = false;
    for (const ShapeMesh::Corner& c : shape->corners) {
        EXPECT_GE(c.at[1], -1e-6F) << "nothing stands before the cut";
        cut_face = cut_face || (c.normal[1] < -0.99F && std::abs(c.at[1]) < 1e-6F);
    }
    EXPECT_TRUE(cut_face);
}

}  // namespace
}  // namespace evenspit::scene
