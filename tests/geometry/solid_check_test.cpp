// SPDX-License-Identifier: MIT
#include "geometry/solid_check.h"

#include <limits>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "shapes.h"

namespace evenspit {
namespace {

using test::box_mesh;
using test::joined;
using test::turned_over;
using ::testing::HasSubstr;

const TriangleMesh cube = box_mesh({0, 0, 0}, {1, 1, 1});

TEST(SolidCheck, ClosedBodiesPass) {
    for (const TriangleMesh& mesh :
         {cube, test::wavy_mesh(), test::torus_mesh(0.3, 0.1, 32), test::cone_mesh(0.3, 0.7, 24),
          test::tube_mesh(2, 2, 0.5, 1.0, 0.25, 0.75)}) {
        const SolidReport report = check_solid(mesh);
        EXPECT_TRUE(report.ok()) << report.found;
        EXPECT_EQ(report.boundary_edges, 0);
        EXPECT_EQ(report.components, 1);
        EXPECT_TRUE(report.found.empty() && report.mend.empty());
    }
}

TEST(SolidCheck, Empty) {
    EXPECT_EQ(check_solid(TriangleMesh{}).fault, SolidFault::empty);
    EXPECT_EQ(check_solid(TriangleMesh{cube.vertices, {}}).fault, SolidFault::empty);
}

TEST(SolidCheck, NotFinite) {
    for (const double bad :
         {std::numeric_limits<double>::quiet_NaN(), -std::numeric_limits<double>::infinity()}) {
        TriangleMesh mesh = cube;
        mesh.vertices[5].y() = bad;
        const SolidReport report = check_solid(mesh);
        EXPECT_EQ(report.fault, SolidFault::not_finite);
        EXPECT_THAT(report.found, HasSubstr("vertex 5 at (1, "));
    }
}

TEST(SolidCheck, BadIndex) {
    for (const std::int32_t bad : {-1, 8, std::numeric_limits<std::int32_t>::max()}) {
        TriangleMesh mesh = cube;
        mesh.triangles[3][1] = bad;
        const SolidReport report = check_solid(mesh);
        EXPECT_EQ(report.fault, SolidFault::bad_index);
        EXPECT_EQ(report.found, "triangle 3 names vertex " + std::to_string(bad) + " where there are 8");
    }
}

TEST(SolidCheck, OneTriangleTurnedOver) {
    TriangleMesh mesh = cube;
    std::swap(mesh.triangles[2][0], mesh.triangles[2][1]);
    const SolidReport report = check_solid(mesh);
    EXPECT_EQ(report.fault, SolidFault::orientation);
    EXPECT_THAT(report.found, HasSubstr("3 edges"));
    EXPECT_THAT(report.found, HasSubstr("triangles 2 and"));
    EXPECT_THAT(report.mend, HasSubstr("orient"));
}

TEST(SolidCheck, NoArea) {
    TriangleMesh line = cube;
    for (Vec3& vertex : line.vertices) vertex = Vec3(vertex.sum(), 2 * vertex.sum(), 0);
    EXPECT_EQ(check_solid(line).fault, SolidFault::zero_area);
    TriangleMesh point = cube;
    for (Vec3& vertex : point.vertices) vertex = Vec3(1, 2, 3);
    EXPECT_EQ(check_solid(point).fault, SolidFault::zero_area);
}

TEST(SolidCheck, Hole) {
    TriangleMesh mesh = cube;
    mesh.triangles.pop_back();
    const SolidReport report = check_solid(mesh);
    EXPECT_EQ(report.fault, SolidFault::boundary);
    EXPECT_EQ(report.boundary_edges, 3);
    EXPECT_EQ(report.components, 1);
    EXPECT_THAT(report.found, HasSubstr("3 boundary edges, the first of triangle"));
    EXPECT_EQ(report.mend, "close the holes in a mesh tool");
}

TEST(SolidCheck, InnerWall) {
    // Two cubes that share a face which is still there, once.
    TriangleMesh mesh = joined(cube, box_mesh({1, 0, 0}, {2, 1, 1}));
    for (Triangle& t : mesh.triangles) {
        for (std::int32_t& v : t) {
            if (v >= 8 && mesh.vertices[std::size_t(v)].x() == 1) v = v - 8 + 1;
        }
    }
    const SolidReport report = check_solid(mesh);
    EXPECT_EQ(report.fault, SolidFault::non_manifold);
    EXPECT_THAT(report.found, HasSubstr("edges with more than two triangles"));
}

TEST(SolidCheck, InsideOut) {
    const SolidReport report = check_solid(turned_over(cube));
    EXPECT_EQ(report.fault, SolidFault::negative_volume);
    EXPECT_EQ(report.found, "a volume of -1 m3: inside out");
    EXPECT_EQ(report.mend, "turn all triangles over");
}

TEST(SolidCheck, FlatSheet) {
    EXPECT_EQ(check_solid(box_mesh({0, 0, 0}, {1, 1, 0})).fault, SolidFault::zero_volume);
    EXPECT_EQ(check_solid(box_mesh({0, 0, 0}, {1, 1, 1e-10})).fault, SolidFault::zero_volume);
    EXPECT_TRUE(check_solid(box_mesh({0, 0, 0}, {1, 1, 1e-5})).ok()) << "a foil is thin, yet a body";
}

TEST(SolidCheck, Inertia) {
    // A large cube outward and a distant small one inside out: positive volume, but its second moment is
    // taken away far out.
    const TriangleMesh mesh = joined(cube, turned_over(box_mesh({9, 0, 0}, {9.9, 0.9, 0.9})));
    const SolidReport report = check_solid(mesh);
    EXPECT_EQ(report.fault, SolidFault::inertia);
    EXPECT_THAT(report.found, HasSubstr("principal inertias"));
}

TEST(SolidCheck, PiecesAndCavitiesAreFine) {
    const SolidReport two = check_solid(joined(cube, box_mesh({2, 0, 0}, {3, 1, 1})));
    EXPECT_TRUE(two.ok()) << two.found;
    EXPECT_EQ(two.components, 2);
    const SolidReport hollow = check_solid(joined(box_mesh({-1, -1, -1}, {2, 2, 2}), turned_over(cube)));
    EXPECT_TRUE(hollow.ok()) << hollow.found;
    EXPECT_EQ(hollow.components, 2);
}

TEST(SolidCheck, DegenerateTrianglesPass) {
    // A vertex on the middle of an edge, joined to it by a triangle without area.
    TriangleMesh mesh = test::tetrahedron_mesh({0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1});
    mesh.vertices.emplace_back(0.5, 0, 0);
    mesh.triangles[0] = {0, 2, 4};
    mesh.triangles.push_back({4, 2, 1});
    mesh.triangles.push_back({0, 4, 1});
    EXPECT_TRUE(check_solid(mesh).ok()) << check_solid(mesh).found;
    // Triangles that name a vertex twice join nothing and open nothing.
    mesh.triangles.push_back({0, 0, 1});
    mesh.triangles.push_back({2, 2, 2});
    const SolidReport report = check_solid(mesh);
    EXPECT_TRUE(report.ok()) << report.found;
    EXPECT_EQ(report.components, 1);
}

TEST(SolidCheck, ScaleDoesNotMatter) {
    for (const double factor : {1e-6, 1e-3, 1e3, 1e6}) {
        EXPECT_TRUE(check_solid(scaled(test::wavy_mesh(), factor)).ok());
        EXPECT_EQ(check_solid(scaled(box_mesh({0, 0, 0}, {1, 1, 1e-10}), factor)).fault,
                  SolidFault::zero_volume);
    }
}

// The gates are passed in the order of the enumeration: with several faults the first one is told.
TEST(SolidCheck, FirstFaultIsTold) {
    TriangleMesh mesh = turned_over(cube);
    mesh.triangles.pop_back();
    EXPECT_EQ(check_solid(mesh).fault, SolidFault::boundary);
    std::swap(mesh.triangles[0][0], mesh.triangles[0][1]);
    EXPECT_EQ(check_solid(mesh).fault, SolidFault::orientation);
    mesh.triangles[5][0] = 99;
    EXPECT_EQ(check_solid(mesh).fault, SolidFault::bad_index);
    mesh.vertices[0].x() = std::numeric_limits<double>::infinity();
    EXPECT_EQ(check_solid(mesh).fault, SolidFault::not_finite);
    mesh.triangles.clear();
    EXPECT_EQ(check_solid(mesh).fault, SolidFault::empty);
}

}  // namespace
}  // namespace evenspit
