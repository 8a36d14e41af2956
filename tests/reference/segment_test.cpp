// SPDX-License-Identifier: MIT
// What segments meet, and the nearest point, against CGAL's tree of boxes with its exact predicates.
#include <algorithm>
#include <cmath>
#include <random>

#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/AABB_triangle_primitive.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <gtest/gtest.h>

#include "geometry/bvh.h"
#include "geometry/mesh_io.h"
#include "geometry/shapes.h"

namespace evenspit {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Triangles = std::vector<Kernel::Triangle_3>;
using Tree = CGAL::AABB_tree<
    CGAL::AABB_traits<Kernel, CGAL::AABB_triangle_primitive<Kernel, Triangles::const_iterator>>>;

Kernel::Point_3 point(const Vec3& p) {
    return {p.x(), p.y(), p.z()};
}

class SegmentPeer : public ::testing::TestWithParam<int> {
  protected:
    static TriangleMesh body(int i) {
        switch (i) {
            case 0:
                return test::wavy_mesh();
            case 1:
                return test::torus_mesh(0.1, 0.04, 48);
            default:
                return read_mesh(EVENSPIT_DATA_DIR "/bunny00.off").mesh;
        }
    }
    static Triangles triangles_of(const TriangleMesh& mesh) {
        Triangles triangles;
        for (const Triangle& t : mesh.triangles) {
            triangles.emplace_back(point(mesh.corner(t, 0)), point(mesh.corner(t, 1)),
                                   point(mesh.corner(t, 2)));
        }
        return triangles;
    }
    Vec3 somewhere() {
        const Box3 box = bounds(queries.mesh());
        return box.center() + (0.7 * box.sizes().array() * test::random_point(random, 1).array()).matrix();
    }

    std::mt19937 random{std::uint32_t(GetParam()) + 1};
    const SolidQueries queries{body(GetParam())};
    const Triangles triangles = triangles_of(queries.mesh());
    const Tree tree{triangles.begin(), triangles.end()};
    const double size = bounds(queries.mesh()).diagonal().norm();
};

TEST_P(SegmentPeer, SegmentsMeetTheSurfaceAtTheSamePlaces) {
    int met = 0;
    for (int i = 0; i < 2000; ++i) {
        const Vec3 a = somewhere(), b = somewhere();
        std::vector<Tree::Intersection_and_primitive_id<Kernel::Segment_3>::Type> found;
        tree.all_intersections(Kernel::Segment_3(point(a), point(b)), std::back_inserter(found));
        std::vector<double> expected;
        for (const auto& [where, triangle] : found) {
            const auto* p = boost::get<Kernel::Point_3>(&where);
            ASSERT_NE(p, nullptr) << "a random segment within a triangle's plane";
            expected.push_back((Vec3(p->x(), p->y(), p->z()) - a).norm());
        }
        std::sort(expected.begin(), expected.end());

        std::vector<double> ends;
        for (const Interval& stretch : queries.inside(a, b)) {
            if (stretch.from > 0) ends.push_back(stretch.from);
            if (stretch.to < (b - a).norm()) ends.push_back(stretch.to);
        }
        ASSERT_EQ(ends.size(), expected.size()) << a.transpose() << " to " << b.transpose();
        for (std::size_t k = 0; k < ends.size(); ++k) EXPECT_NEAR(ends[k], expected[k], 1e-12 * size);
        met += !ends.empty();
    }
    EXPECT_GT(met, 500);
}

TEST_P(SegmentPeer, PointsAreOnTheSameSide) {
    int inside = 0;
    for (int i = 0; i < 2000; ++i) {
        const Vec3 p = somewhere();
        const Vec3 away = p + 2 * size * test::random_point(random, 1).normalized();
        const bool odd =
            tree.number_of_intersected_primitives(Kernel::Segment_3(point(p), point(away))) % 2 == 1;
        EXPECT_EQ(queries.contains(p), odd) << p.transpose();
        inside += odd;
    }
    EXPECT_GT(inside, 100);
}

TEST_P(SegmentPeer, NearestPointsAreAsFar) {
    for (int i = 0; i < 1000; ++i) {
        const Vec3 p = somewhere();
        EXPECT_NEAR(queries.closest(p).distance, std::sqrt(tree.squared_distance(point(p))), 1e-13 * size);
    }
}

INSTANTIATE_TEST_SUITE_P(Reference, SegmentPeer, ::testing::Range(0, 3));

}  // namespace
}  // namespace evenspit
