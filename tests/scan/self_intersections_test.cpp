// SPDX-License-Identifier: MIT
#include "scan/self_intersections.h"

#include <algorithm>
#include <cmath>
#include <random>
#include <utility>

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Surface_mesh.h>
#include <gtest/gtest.h>

#include "support/meshes.h"

namespace evenspit::scan {
namespace {

using test::box_mesh;
using test::ellipsoid_mesh;

// The same from CGAL, an independent peer with exact predicates.
std::vector<std::int32_t> by_cgal(const TriangleMesh& mesh) {
    using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
    CGAL::Surface_mesh<Kernel::Point_3> surface;
    using Vertex = CGAL::Surface_mesh<Kernel::Point_3>::Vertex_index;
    using Face = CGAL::Surface_mesh<Kernel::Point_3>::Face_index;
    for (const Vec3& v : mesh.vertices) surface.add_vertex({v.x(), v.y(), v.z()});
    for (const Triangle& t : mesh.triangles) {
        surface.add_face(Vertex(std::uint32_t(t[0])), Vertex(std::uint32_t(t[1])),
                         Vertex(std::uint32_t(t[2])));
    }
    std::vector<std::pair<Face, Face>> pairs;
    CGAL::Polygon_mesh_processing::self_intersections(surface, std::back_inserter(pairs));
    std::vector<std::int32_t> cut;
    for (const auto& [a, b] : pairs) {
        cut.push_back(std::int32_t(std::uint32_t(a)));
        cut.push_back(std::int32_t(std::uint32_t(b)));
    }
    std::sort(cut.begin(), cut.end());
    cut.erase(std::unique(cut.begin(), cut.end()), cut.end());
    return cut;
}

TEST(SelfIntersections, CleanBodiesHaveNone) {
    EXPECT_TRUE(self_intersections(box_mesh({0, 0, 0}, {1, 2, 3})).empty());
    EXPECT_TRUE(self_intersections(ellipsoid_mesh(0.15, 0.1, 0.08, Vec3(1, 2, 3), 100, 60)).empty());
    EXPECT_TRUE(self_intersections({}).empty());
}

TEST(SelfIntersections, TwoBoxesThroughEachOtherCutAlongTheirFaces) {
    TriangleMesh both = box_mesh({0, 0, 0}, {1, 1, 1});
    const TriangleMesh other = box_mesh({0.5, 0.3, 0.2}, {1.5, 0.6, 0.7});
    for (const Vec3& v : other.vertices) both.vertices.push_back(v);
    for (const Triangle& t : other.triangles) both.triangles.push_back({t[0] + 8, t[1] + 8, t[2] + 8});
    const std::vector<std::int32_t> found = self_intersections(both);
    EXPECT_EQ(found, by_cgal(both));
    EXPECT_FALSE(found.empty());
}

TEST(SelfIntersections, AgreeWithAPeerOnCrumpledBodies) {
    std::mt19937 dice(11);
    std::normal_distribution<double> normal;
    for (const double crumple : {0.001, 0.004, 0.01}) {
        TriangleMesh mesh = ellipsoid_mesh(0.15, 0.1, 0.08, Vec3::Zero(), 60, 40);
        for (Vec3& v : mesh.vertices) {
            const double x = normal(dice), y = normal(dice), z = normal(dice);
            v += crumple * Vec3(x, y, z);
        }
        EXPECT_EQ(self_intersections(mesh), by_cgal(mesh)) << crumple;
    }
}

}  // namespace
}  // namespace evenspit::scan
