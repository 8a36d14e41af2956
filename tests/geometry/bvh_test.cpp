// SPDX-License-Identifier: MIT
#include "geometry/bvh.h"

#include <algorithm>
#include <array>
#include <limits>
#include <optional>
#include <set>

#include <Eigen/LU>
#include <gtest/gtest.h>

#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "shapes.h"

namespace evenspit {
namespace {

using test::box_mesh;
using test::ellipsoid_mesh;
using test::random_point;

double total(const std::vector<Interval>& stretches) {
    double sum = 0;
    for (const Interval& stretch : stretches) sum += stretch.length();
    return sum;
}

void expect_well_formed(const std::vector<Interval>& stretches, double length) {
    double last = 0;
    for (const Interval& stretch : stretches) {
        EXPECT_LT(stretch.from, stretch.to);
        EXPECT_GE(stretch.from, last);
        EXPECT_LE(stretch.to, length);
        last = stretch.to;
    }
}

void expect_stretches(const std::vector<Interval>& found, const std::vector<Interval>& expected,
                      double tolerance = 1e-14) {
    ASSERT_EQ(found.size(), expected.size());
    for (std::size_t i = 0; i < found.size(); ++i) {
        EXPECT_NEAR(found[i].from, expected[i].from, tolerance);
        EXPECT_NEAR(found[i].to, expected[i].to, tolerance);
    }
}

// Every triangle against the line by solving for the crossing: slow, and right away from edges.
std::vector<Interval> inside_by_brute_force(const TriangleMesh& mesh, const Vec3& a, const Vec3& b) {
    const double length = (b - a).norm();
    const Vec3 direction = (b - a) / length;
    std::vector<std::pair<double, int>> met;
    int winding = 0;
    for (const Triangle& triangle : mesh.triangles) {
        Mat3 system;
        system << mesh.corner(triangle, 1) - mesh.corner(triangle, 0),
            mesh.corner(triangle, 2) - mesh.corner(triangle, 0), -direction;
        const double determinant = system.determinant();
        if (determinant == 0) continue;
        const Vec3 x = system.inverse() * (a - mesh.corner(triangle, 0));
        if (x[0] < 0 || x[1] < 0 || x[0] + x[1] > 1 || x[2] <= 0) continue;
        met.emplace_back(x[2], determinant > 0 ? 1 : -1);
        winding -= met.back().second;
    }
    std::sort(met.begin(), met.end());
    std::vector<Interval> stretches;
    double from = 0;
    for (const auto& [at, step] : met) {
        if (at >= length) break;
        if (winding > 0) stretches.push_back({from, at});
        winding += step;
        from = at;
    }
    if (winding > 0) stretches.push_back({from, length});
    return stretches;
}

class CubeQueries : public ::testing::Test {
  protected:
    const SolidQueries cube{box_mesh({0, 0, 0}, {1, 1, 1})};
};

TEST_F(CubeQueries, Through) {
    expect_stretches(cube.inside({-1, 0.3, 0.6}, {2, 0.3, 0.6}), {{1, 2}});
}

TEST_F(CubeQueries, Beside) {
    EXPECT_TRUE(cube.inside({-1, 1.5, 0.5}, {2, 1.5, 0.5}).empty());
}

TEST_F(CubeQueries, EndsBeforeOrStartsBehind) {
    EXPECT_TRUE(cube.inside({-2, 0.3, 0.6}, {-1, 0.3, 0.6}).empty());
    EXPECT_TRUE(cube.inside({2, 0.3, 0.6}, {3, 0.3, 0.6}).empty());
}

TEST_F(CubeQueries, StartsInside) {
    expect_stretches(cube.inside({0.25, 0.3, 0.6}, {2, 0.3, 0.6}), {{0, 0.75}});
}

TEST_F(CubeQueries, EndsInside) {
    expect_stretches(cube.inside({-1, 0.3, 0.6}, {0.25, 0.3, 0.6}), {{1, 1.25}});
}

TEST_F(CubeQueries, WhollyInside) {
    expect_stretches(cube.inside({0.25, 0.3, 0.6}, {0.75, 0.3, 0.6}), {{0, 0.5}});
}

TEST_F(CubeQueries, FromSurfaceToSurface) {
    expect_stretches(cube.inside({0, 0.3, 0.6}, {1, 0.3, 0.6}), {{0, 1}});
    EXPECT_TRUE(cube.inside({1, 0.3, 0.6}, {2, 0.3, 0.6}).empty());
    EXPECT_TRUE(cube.inside({-1, 0.3, 0.6}, {0, 0.3, 0.6}).empty());
}

TEST_F(CubeQueries, NoLength) {
    EXPECT_TRUE(cube.inside({0.5, 0.5, 0.5}, {0.5, 0.5, 0.5}).empty());
    EXPECT_TRUE(cube.inside({3, 3, 3}, {3, 3, 3}).empty());
}

TEST_F(CubeQueries, NotFinite) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double infinity = std::numeric_limits<double>::infinity();
    EXPECT_TRUE(cube.inside({nan, 0.5, 0.5}, {2, 0.5, 0.5}).empty());
    EXPECT_TRUE(cube.inside({-1, 0.5, 0.5}, {infinity, 0.5, 0.5}).empty());
    EXPECT_FALSE(cube.contains({nan, 0.5, 0.5}));
    EXPECT_FALSE(cube.contains({infinity, 0.5, 0.5}));
}

TEST_F(CubeQueries, ThroughTheDiagonalOfAFace) {
    expect_stretches(cube.inside({-1, 0.5, 0.5}, {2, 0.5, 0.5}), {{1, 2}});
    expect_stretches(cube.inside({0.5, 0.5, 2}, {0.5, 0.5, -3}), {{1, 2}});
}

TEST_F(CubeQueries, ThroughTwoCorners) {
    const double root = std::sqrt(3.0);
    expect_stretches(cube.inside({-1, -1, -1}, {2, 2, 2}), {{root, 2 * root}});
    expect_stretches(cube.inside({2, -1, 2}, {-1, 2, -1}), {{root, 2 * root}});
    expect_stretches(cube.inside({0, 0, 0}, {1, 1, 1}), {{0, root}});
}

TEST_F(CubeQueries, ThroughTwoEdges) {
    const double root = std::sqrt(2.0);
    expect_stretches(cube.inside({-1, 0.25, -1}, {2, 0.25, 2}), {{root, 2 * root}});
}

TEST_F(CubeQueries, GrazingACornerOrEdgeTakesNothing) {
    EXPECT_LE(total(cube.inside({-1, 1, 0}, {1, -1, 0})), 1e-15);
    EXPECT_LE(total(cube.inside({-1, 1, 0.5}, {1, -1, 0.5})), 1e-15);
    EXPECT_LE(total(cube.inside({2, 1, 0}, {1, 2, 0})), 1e-15);
}

// Along an edge or within a face the segment runs in the surface: it counts as inside all along or not at
// all.
TEST_F(CubeQueries, WithinTheSurface) {
    for (const double y : {0.0, 0.3, 1.0}) {
        for (const double z : {0.0, 1.0}) {
            const auto stretches = cube.inside({-1, y, z}, {2, y, z});
            if (!stretches.empty()) expect_stretches(stretches, {{1, 2}});
            const auto back = cube.inside({2, z, y}, {-1, z, y});
            if (!back.empty()) expect_stretches(back, {{1, 2}});
        }
    }
}

TEST_F(CubeQueries, Contains) {
    EXPECT_TRUE(cube.contains({0.5, 0.5, 0.5}));
    EXPECT_TRUE(cube.contains({1e-12, 1e-12, 1 - 1e-12}));
    EXPECT_FALSE(cube.contains({-1e-12, 0.5, 0.5}));
    EXPECT_FALSE(cube.contains({0.5, 0.5, 1 + 1e-12}));
    EXPECT_FALSE(cube.contains({5, 5, 5}));
}

TEST_F(CubeQueries, Closest) {
    const auto expect_closest = [&](const Vec3& from, const Vec3& to) {
        const ClosestPoint found = cube.closest(from);
        EXPECT_TRUE(found.point.isApprox(to, 1e-15)) << found.point.transpose();
        EXPECT_NEAR(found.distance, (from - to).norm(), 1e-15);
        ASSERT_GE(found.triangle, 0);
        ASSERT_LT(found.triangle, 12);
        // The point lies in the plane of the triangle that is named.
        const TriangleMesh& mesh = cube.mesh();
        const Triangle& t = mesh.triangles[std::size_t(found.triangle)];
        const Vec3 normal =
            (mesh.corner(t, 1) - mesh.corner(t, 0)).cross(mesh.corner(t, 2) - mesh.corner(t, 0));
        EXPECT_NEAR(normal.dot(found.point - mesh.corner(t, 0)), 0, 1e-15);
    };
    expect_closest({0.5, 0.25, 3}, {0.5, 0.25, 1});
    expect_closest({2, 3, 0.5}, {1, 1, 0.5});
    expect_closest({-1, -1, -1}, {0, 0, 0});
    expect_closest({0.5, 0.5, 0.9}, {0.5, 0.5, 1});
    expect_closest({1, 0.5, 0.25}, {1, 0.5, 0.25});
    expect_closest({1, 1, 1}, {1, 1, 1});
}

TEST(SolidQueries, NeedsTriangles) {
    EXPECT_THROW(SolidQueries(TriangleMesh{}), std::invalid_argument);
}

TEST(SolidQueries, CavityIsOutside) {
    const SolidQueries hollow(
        test::joined(box_mesh({0, 0, 0}, {3, 3, 3}), test::turned_over(box_mesh({1, 1, 1}, {2, 2, 2}))));
    expect_stretches(hollow.inside({-1, 1.5, 1.5}, {4, 1.5, 1.5}), {{1, 2}, {3, 4}});
    EXPECT_FALSE(hollow.contains({1.5, 1.5, 1.5}));
    EXPECT_TRUE(hollow.contains({0.5, 1.5, 1.5}));
    EXPECT_TRUE(hollow.inside({1.2, 1.5, 1.5}, {1.8, 1.5, 1.5}).empty());
}

TEST(SolidQueries, InnerTrianglesAreLeftOutBesideALine) {
    const TriangleMesh outer = ellipsoid_mesh(3, 2, 2, Vec3::Zero());
    const TriangleMesh both =
        test::joined(outer, test::turned_over(ellipsoid_mesh(2.5, 1.5, 1.5, Vec3(0, 0.3, 0))));
    std::vector<bool> inner(both.triangles.size(), false);
    std::fill(inner.begin() + std::ptrdiff_t(outer.triangles.size()), inner.end(), true);
    const SolidQueries all(both), marked(both, inner), alone(outer);
    for (const double y : {-1.2, 0.0, 0.7}) {
        const Vec3 start(-4, y, 0.1);
        const double beside = marked.distance_beside(start, Vec3::UnitX(), 3, 5);
        EXPECT_EQ(beside, alone.distance_beside(start, Vec3::UnitX(), 3, 5));
        EXPECT_LT(all.distance_beside(start, Vec3::UnitX(), 3, 5), beside);
    }
    EXPECT_EQ(marked.closest({0, 0.3, 1.4}).distance, all.closest({0, 0.3, 1.4}).distance);
    EXPECT_FALSE(marked.contains({0, 0.3, 0})) << "for all else they count";
}

TEST(SolidQueries, OverlappingPartsAreOneStretch) {
    const SolidQueries both(test::joined(box_mesh({0, 0, 0}, {2, 1, 1}), box_mesh({1, 0, 0}, {3, 1, 1})));
    expect_stretches(both.inside({-1, 0.3, 0.6}, {4, 0.3, 0.6}), {{1, 4}});
    EXPECT_TRUE(both.contains({1.5, 0.3, 0.6}));
    const SolidQueries touching(test::joined(box_mesh({0, 0, 0}, {1, 1, 1}), box_mesh({1, 0, 0}, {3, 1, 1})));
    expect_stretches(touching.inside({-1, 0.3, 0.6}, {4, 0.3, 0.6}), {{1, 4}});
}

TEST(SolidQueries, MeshThatIsOneTriangleOnManyPlaces) {
    // Equal boxes leave the tree no place to cut: it halves them by number.
    TriangleMesh pile;
    for (int i = 0; i < 500; ++i) pile = test::joined(pile, box_mesh({0, 0, 0}, {1, 1, 1}));
    const SolidQueries queries(pile);
    expect_stretches(queries.inside({-1, 0.3, 0.6}, {2, 0.3, 0.6}), {{1, 2}});
}

TEST(SolidQueries, DegenerateTrianglesDoNotCount) {
    TriangleMesh mesh = box_mesh({0, 0, 0}, {1, 1, 1});
    mesh.vertices.emplace_back(0.5, 0.5, 0);
    mesh.triangles.push_back({0, 3, 8});  // a line across the bottom
    mesh.triangles.push_back({3, 0, 8});
    mesh.triangles.push_back({8, 8, 8});
    const SolidQueries queries(mesh);
    expect_stretches(queries.inside({0.5, 0.5, -1}, {0.5, 0.5, 2}), {{1, 2}});
    EXPECT_EQ(queries.closest({0.5, 0.5, -2}).distance, 2);
}

// Along x, a box whose end faces are fans round a middle vertex: the segment goes through both middles.
TEST(SolidQueries, ThroughAVertexOfManyTriangles) {
    const SolidQueries ellipsoid(ellipsoid_mesh(0.3, 0.2, 0.1, {0, 0, 0}, 37, 24));
    expect_stretches(ellipsoid.inside({-1, 0, 0}, {1, 0, 0}), {{0.7, 1.3}});
}

// From the middle of a convex body through each of its vertices, the middle of each edge and of each
// triangle: out exactly once, there. And between each two vertices: inside all the way, unless along the
// surface.
TEST(SolidQueries, ThroughEveryVertexAndEdge) {
    std::mt19937 random{11};
    for (const Pose& pose : {Pose::Identity(), test::random_pose(random, 1)}) {
        const TriangleMesh mesh = transformed(ellipsoid_mesh(0.12, 0.08, 0.06, {0, 0, 0}, 16, 12), pose);
        const SolidQueries queries(mesh);
        const Vec3 middle = pose.translation();
        const auto expect_out_at = [&](const Vec3& point) {
            const double distance = (point - middle).norm();
            const auto there = queries.inside(middle, middle + 3 * (point - middle));
            expect_stretches(there, {{0, distance}}, 1e-14);
            const auto back = queries.inside(middle + 3 * (point - middle), middle);
            expect_stretches(back, {{2 * distance, 3 * distance}}, 1e-14);
        };
        for (const Vec3& vertex : mesh.vertices) expect_out_at(vertex);
        for (const Triangle& t : mesh.triangles) {
            for (int k = 0; k < 3; ++k) expect_out_at((mesh.corner(t, k) + mesh.corner(t, (k + 1) % 3)) / 2);
            expect_out_at((mesh.corner(t, 0) + mesh.corner(t, 1) + mesh.corner(t, 2)) / 3);
        }
        for (std::size_t i = 0; i < mesh.vertices.size(); i += 3) {
            for (std::size_t j = 0; j < mesh.vertices.size(); j += 7) {
                const Vec3& a = mesh.vertices[i];
                const Vec3& b = mesh.vertices[j];
                const double length = (b - a).norm();
                if (queries.closest((a + b) / 2).distance < 1e-12) continue;
                EXPECT_NEAR(total(queries.inside(a, b)), length, 1e-13);
                EXPECT_NEAR(total(queries.inside(2 * a - b, 2 * b - a)), length, 1e-13);
            }
        }
    }
}

// A random heap of unit cubes on a grid, its outer faces as a mesh: flat parts, shared edges, cubes that
// touch along an edge or at a corner. Segments between grid points and half points run through all of them.
// Whatever lies strictly inside or outside must be told so.
TEST(SolidQueries, GridOfCubes) {
    std::mt19937 random{5};
    const int n = 4;
    std::set<std::array<int, 3>> filled;
    for (int x = 0; x < n; ++x) {
        for (int y = 0; y < n; ++y) {
            for (int z = 0; z < n; ++z) {
                if (random() % 2 == 0) filled.insert({x, y, z});
            }
        }
    }
    TriangleMesh mesh;
    for (const auto& cube : filled) {
        const Vec3 low(cube[0], cube[1], cube[2]);
        const TriangleMesh whole = box_mesh(low, low + Vec3::Ones());
        for (const Triangle& t : whole.triangles) {
            const Vec3 normal =
                (whole.corner(t, 1) - whole.corner(t, 0)).cross(whole.corner(t, 2) - whole.corner(t, 0));
            std::array<int, 3> neighbour = cube;
            for (std::size_t k = 0; k < 3; ++k) neighbour[k] += int(normal[int(k)]);
            if (filled.contains(neighbour)) continue;
            for (int k = 0; k < 3; ++k) mesh.vertices.push_back(whole.corner(t, k));
            const auto last = std::int32_t(mesh.vertices.size() - 1);
            mesh.triangles.push_back({last - 2, last - 1, last});
        }
    }
    const SolidQueries queries(mesh);

    // How many of the cubes that hold the point (in their closed box) are filled: all, none or some.
    const auto certainly_inside = [&](const Vec3& p) -> std::optional<bool> {
        int in = 0, out = 0;
        for (int i = 0; i < 8; ++i) {
            const Vec3 nudged = p + 1e-9 * Vec3((i & 1) ? 1 : -1, (i & 2) ? 1 : -1, (i & 4) ? 1 : -1);
            ++(filled.contains(
                   {int(std::floor(nudged.x())), int(std::floor(nudged.y())), int(std::floor(nudged.z()))})
                   ? in
                   : out);
        }
        if (in > 0 && out > 0) return std::nullopt;
        return in > 0;
    };
    std::uniform_int_distribution<int> half(-2, 2 * n + 2);
    int sure = 0;
    for (int i = 0; i < 20000; ++i) {
        const Vec3 a = Vec3(half(random), half(random), half(random)) / 2;
        const Vec3 b = Vec3(half(random), half(random), half(random)) / 2;
        if (a == b) continue;
        const double length = (b - a).norm();
        const auto stretches = queries.inside(a, b);
        expect_well_formed(stretches, length);
        // Cut at every plane of the grid: between two cuts the segment stays in one class.
        std::vector<double> cuts{0, 1};
        for (int k = 0; k < 3; ++k) {
            for (int plane = 0; plane <= n && a[k] != b[k]; ++plane) {
                const double t = (plane - a[k]) / (b[k] - a[k]);
                if (t > 0 && t < 1) cuts.push_back(t);
            }
        }
        std::sort(cuts.begin(), cuts.end());
        for (std::size_t c = 0; c + 1 < cuts.size(); ++c) {
            if (cuts[c + 1] - cuts[c] < 1e-9) continue;
            const double t = (cuts[c] + cuts[c + 1]) / 2;
            const auto expected = certainly_inside(a + t * (b - a));
            if (!expected) continue;
            ++sure;
            const bool found = std::any_of(stretches.begin(), stretches.end(), [&](const Interval& stretch) {
                return stretch.from < t * length && t * length < stretch.to;
            });
            ASSERT_EQ(found, *expected) << a.transpose() << " to " << b.transpose() << " at " << t;
            ASSERT_EQ(queries.contains(a + t * (b - a)), *expected) << (a + t * (b - a)).transpose();
        }
    }
    EXPECT_GT(sure, 20000);
}

class Bodies : public ::testing::TestWithParam<int> {
  protected:
    static TriangleMesh body(int i) {
        switch (i) {
            case 0:
                return test::wavy_mesh();
            case 1:
                return test::torus_mesh(0.1, 0.04, 40);
            case 2:
                return scaled(test::tube_mesh(2, 2, 0.25, 1.0, 0.25, 0.75), 0.1);
            default:
                return test::joined(ellipsoid_mesh(0.1, 0.1, 0.1, {0, 0, 0}),
                                    ellipsoid_mesh(0.1, 0.05, 0.05, {0.05, 0.02, 0.01}));
        }
    }
    std::mt19937 random{std::uint32_t(GetParam()) + 100};
    const TriangleMesh mesh = body(GetParam());
    const SolidQueries queries{mesh};
};

TEST_P(Bodies, AgreesWithBruteForce) {
    int met = 0;
    for (int i = 0; i < 500; ++i) {
        const Vec3 a = random_point(random, 0.2), b = random_point(random, 0.2);
        const auto stretches = queries.inside(a, b);
        expect_well_formed(stretches, (b - a).norm());
        EXPECT_NEAR(total(stretches), total(inside_by_brute_force(mesh, a, b)), 1e-13);
        met += !stretches.empty();
    }
    EXPECT_GT(met, 100);
}

TEST_P(Bodies, ReversedSegmentIsTheSame) {
    for (int i = 0; i < 300; ++i) {
        const Vec3 a = random_point(random, 0.2), b = random_point(random, 0.2);
        const double length = (b - a).norm();
        auto back = queries.inside(b, a);
        std::reverse(back.begin(), back.end());
        for (Interval& stretch : back) stretch = {length - stretch.to, length - stretch.from};
        expect_stretches(back, queries.inside(a, b), 1e-13);
    }
}

TEST_P(Bodies, PartsAddUpToTheWhole) {
    for (int i = 0; i < 300; ++i) {
        const Vec3 a = random_point(random, 0.2), b = random_point(random, 0.2);
        const double t = std::uniform_real_distribution<double>(0, 1)(random);
        const Vec3 m = a + t * (b - a);
        EXPECT_NEAR(total(queries.inside(a, m)) + total(queries.inside(m, b)), total(queries.inside(a, b)),
                    1e-13);
    }
}

TEST_P(Bodies, MovedTogetherStaysTheSame) {
    const Pose pose = test::random_pose(random, 10);
    const SolidQueries moved(transformed(mesh, pose));
    for (int i = 0; i < 300; ++i) {
        const Vec3 a = random_point(random, 0.2), b = random_point(random, 0.2);
        EXPECT_NEAR(total(moved.inside(pose * a, pose * b)), total(queries.inside(a, b)), 1e-11);
        EXPECT_NEAR(moved.closest(pose * a).distance, queries.closest(a).distance, 1e-13);
    }
}

TEST_P(Bodies, ContainsAgreesWithSegments) {
    for (int i = 0; i < 500; ++i) {
        const Vec3 p = random_point(random, 0.15);
        const double step = queries.closest(p).distance / 2;
        const auto stretches = queries.inside(p, p + step * random_point(random, 1).normalized());
        EXPECT_EQ(queries.contains(p), !stretches.empty());
        if (!stretches.empty()) {
            EXPECT_NEAR(stretches[0].length(), step, 1e-15);
        }
    }
}

TEST_F(CubeQueries, ClosestLooksOnlySoFar) {
    const ClosestPoint near = cube.closest({0.5, 0.25, 3}, 2.5);
    EXPECT_EQ(near.distance, 2);
    EXPECT_GE(near.triangle, 0);
    for (const double within : {0.1, 1.9, 2.0}) {
        const ClosestPoint none = cube.closest({0.5, 0.25, 3}, within);
        EXPECT_EQ(none.distance, within);
        EXPECT_EQ(none.triangle, -1);
    }
}

TEST_P(Bodies, ClosestAgreesWithBruteForce) {
    for (int i = 0; i < 200; ++i) {
        const Vec3 p = random_point(random, 0.2);
        // The least of the distances to a fine sample of each triangle bounds the true distance from above by
        // little.
        double least = std::numeric_limits<double>::infinity();
        for (const Triangle& t : mesh.triangles) {
            for (int j = 0; j <= 8; ++j) {
                for (int k = 0; j + k <= 8; ++k) {
                    const Vec3 q =
                        (j * mesh.corner(t, 0) + k * mesh.corner(t, 1) + (8 - j - k) * mesh.corner(t, 2)) / 8;
                    least = std::min(least, (q - p).norm());
                }
            }
        }
        const ClosestPoint found = queries.closest(p);
        EXPECT_LE(found.distance, least + 1e-15);
        EXPECT_NEAR((found.point - p).norm(), found.distance, 1e-15);
        EXPECT_LE(queries.closest(found.point).distance, 1e-15);
    }
}

// Large enough to be grown by several threads, and so deep in one place that nodes are halved by count.
TEST(SolidQueries, ATreeOfManyBranchesAgreesWithBruteForce) {
    std::mt19937 random{17};
    TriangleMesh mesh = test::joined(test::wavy_mesh(150, 150), test::wavy_mesh(40, 40));
    // Ever smaller towards one place, each a hundredth of the one before.
    double size = 0.02;
    for (int n = 0; n < 45; ++n, size *= 1e-2)
        mesh = test::joined(mesh, ellipsoid_mesh(size, size, size, {0.3 + size, 0, 0}));
    const SolidQueries queries(mesh);
    int met = 0;
    for (int i = 0; i < 60; ++i) {
        const Vec3 a = random_point(random, 0.2), b = random_point(random, 0.2);
        const auto stretches = queries.inside(a, b);
        EXPECT_NEAR(total(stretches), total(inside_by_brute_force(mesh, a, b)), 1e-13);
        met += !stretches.empty();
    }
    EXPECT_GT(met, 10);
    const SolidQueries again(mesh);
    for (int i = 0; i < 200; ++i) {
        const Vec3 p = random_point(random, 0.2);
        EXPECT_EQ(queries.closest(p).triangle, again.closest(p).triangle) << "the same tree each time";
    }
}

// Parts that overlap count twice in the volume and once in a chord, so not for those.
class SingleBodies : public Bodies {};

// Chords on a square grid of parallels fill the body: their lengths times the grid's cell come to the volume.
TEST_P(SingleBodies, ChordsFillTheVolume) {
    const Box3 box = bounds(mesh);
    const int n = 200;
    const Vec3 cell = box.sizes() / n;
    double sum = 0;
    for (int i = 0; i < n; ++i) {
        for (int j = 0; j < n; ++j) {
            const double y = box.min().y() + (i + 0.5) * cell.y(), z = box.min().z() + (j + 0.5) * cell.z();
            sum += total(queries.inside({-1, y, z}, {1, y, z})) * cell.y() * cell.z();
        }
    }
    EXPECT_NEAR(sum, volume_moments(mesh).amount, 3e-3 * sum);
}

INSTANTIATE_TEST_SUITE_P(SolidQueries, Bodies, ::testing::Range(0, 4));
INSTANTIATE_TEST_SUITE_P(SolidQueries, SingleBodies, ::testing::Range(0, 3));

TEST(SolidQueries, ChordOfABox) {
    std::mt19937 random{3};
    const Box3 box(Vec3(-0.1, -0.05, -0.02), Vec3(0.2, 0.06, 0.09));
    const SolidQueries queries(box_mesh(box.min(), box.max()));
    for (int i = 0; i < 5000; ++i) {
        const Vec3 a = random_point(random, 0.3), b = random_point(random, 0.3);
        double from = 0, to = 1;
        for (int k = 0; k < 3; ++k) {
            const double t0 = (box.min()[k] - a[k]) / (b[k] - a[k]),
                         t1 = (box.max()[k] - a[k]) / (b[k] - a[k]);
            from = std::max(from, std::min(t0, t1));
            to = std::min(to, std::max(t0, t1));
        }
        EXPECT_NEAR(total(queries.inside(a, b)), std::max(0.0, to - from) * (b - a).norm(), 1e-14);
    }
}

// Against the smooth ellipsoid (closed form) the faceted one is short by the square of the facet size.
TEST(SolidQueries, ChordOfAnEllipsoid) {
    const Vec3 axes(0.12, 0.08, 0.06);
    const auto error = [&](int n) {
        const SolidQueries queries(ellipsoid_mesh(axes.x(), axes.y(), axes.z(), {0, 0, 0}, n, n));
        std::mt19937 random{3};
        double sum = 0, exact = 0;
        for (int i = 0; i < 3000; ++i) {
            const Vec3 a = random_point(random, 0.05) + Vec3(0.3, 0, 0),
                       b = random_point(random, 0.05) - Vec3(0.3, 0, 0);
            // |(a + t (b − a)) / axes| = 1
            const Vec3 p = a.cwiseQuotient(axes), d = (b - a).cwiseQuotient(axes);
            const double root = p.dot(d) * p.dot(d) - d.squaredNorm() * (p.squaredNorm() - 1);
            exact += 2 * std::sqrt(std::max(0.0, root)) / d.squaredNorm() * (b - a).norm();
            sum += total(queries.inside(a, b));
        }
        return 1 - sum / exact;
    };
    const double coarse = error(40), fine = error(80);
    EXPECT_GT(fine, 0);
    EXPECT_LT(fine, 2e-3);
    EXPECT_NEAR(std::log2(coarse / fine), 2, 0.1);
}

TEST(SolidQueries, FarFromTheOrigin) {
    const Vec3 away(1e4, -1e4, 1e4);
    const SolidQueries queries(box_mesh(away, away + Vec3::Ones()));
    expect_stretches(queries.inside(away + Vec3(-1, -1, -1), away + Vec3(2, 2, 2)),
                     {{std::sqrt(3), 2 * std::sqrt(3)}}, 1e-11);
    expect_stretches(queries.inside(Vec3(0, 0, 0), away + Vec3(0.5, 0.5, 0.5)),
                     {{(away + Vec3(0, 0.5, 0.5)).norm(), (away + Vec3(0.5, 0.5, 0.5)).norm()}}, 1);
}

TEST(SolidQueries, NearestOfASliver) {
    // A needle of a tetrahedron, 1 m by a nanometre.
    const SolidQueries queries(test::tetrahedron_mesh({0, 0, 0}, {1, 0, 0}, {0.5, 1e-9, 0}, {0.5, 0, 1e-9}));
    for (const double x : {0.0, 0.1, 0.5, 0.77, 1.0}) {
        EXPECT_NEAR(queries.closest({x, 0.3, 0.4}).distance, 0.5, 2e-9);
        EXPECT_NEAR(queries.closest({x, -0.3, -0.4}).distance, 0.5, 1e-15);
    }
}

// From outside, a half-line first meets a solid where its first stretch inside begins; from inside, where
// that stretch ends.
TEST(SolidQueries, NearestOfTrianglesOfAllWidths) {
    // Several at once are passed over by a distance that is off where a triangle is all but without width:
    // from a decimetre down to nothing, and some that are but a point.
    std::mt19937 random(31);
    TriangleMesh mesh;
    std::vector<SolidQueries> alone;
    for (std::int32_t t = 0; t < 200; ++t) {
        const double width = t % 20 == 19 ? 0 : std::pow(10.0, -(t % 20));
        const Vec3 from = test::random_point(random, 0.1);
        const Vec3 along = (t % 40 == 39 ? 0 : 1) * test::random_point(random, 0.1);
        TriangleMesh one{{from, from + along, from + 0.3 * along + width * test::random_point(random, 0.1)},
                         {{0, 1, 2}}};
        std::rotate(one.vertices.begin(), one.vertices.begin() + t % 3, one.vertices.end());
        mesh.vertices.insert(mesh.vertices.end(), one.vertices.begin(), one.vertices.end());
        mesh.triangles.push_back({3 * t, 3 * t + 1, 3 * t + 2});
        alone.emplace_back(std::move(one));
    }
    const SolidQueries all(mesh);
    for (int k = 0; k < 300; ++k) {
        // Places all round, and some within a hair of a triangle's corner.
        const auto corner = std::size_t(k) % mesh.vertices.size();
        const Vec3 place = k % 2 == 0 ? test::random_point(random, 0.2)
                                      : Vec3(mesh.vertices[corner] + test::random_point(random, 1e-6));
        double least = std::numeric_limits<double>::infinity();
        for (const SolidQueries& one : alone) least = std::min(least, one.closest(place).distance);
        EXPECT_EQ(all.closest(place).distance, least) << k;
    }
}

TEST(SolidQueries, FirstHitIsWhereTheFirstStretchBeginsOrEnds) {
    std::mt19937 random(5);
    const SolidQueries solid(ellipsoid_mesh(0.3, 0.2, 0.1, {0, 0, 0}, 40, 24));
    int met = 0;
    for (int k = 0; k < 4000; ++k) {
        const Vec3 start = random_point(random, 0.5), direction = random_point(random, 1).normalized();
        const std::vector<Interval> inside = solid.inside(start, start + 10 * direction);
        const ClosestPoint hit = solid.first_hit(start, direction);
        if (inside.empty()) {
            EXPECT_EQ(hit.triangle, -1);
            EXPECT_TRUE(std::isinf(hit.distance));
            continue;
        }
        ++met;
        const double expected = inside.front().from > 0 ? inside.front().from : inside.front().to;
        EXPECT_NEAR(hit.distance, expected, 1e-12);
        EXPECT_NEAR((hit.point - start - expected * direction).norm(), 0, 1e-12);
        ASSERT_GE(hit.triangle, 0);
        EXPECT_LT(solid.closest(hit.point).distance, 1e-12);
        EXPECT_EQ(solid.first_hit(start, direction, 0.9 * expected).triangle, -1);
        EXPECT_EQ(solid.first_hit(start, direction, 0.9 * expected).distance, 0.9 * expected);
    }
    EXPECT_GT(met, 200);
}

TEST(SolidQueries, FirstHitAlongTheFacesOfItsBoxes) {
    const SolidQueries box(box_mesh(Vec3(0, 0, 0), Vec3(1, 1, 1)));
    for (int axis = 0; axis < 3; ++axis) {
        for (const double sign : {1.0, -1.0}) {
            // Through the middle, and through a corner's edge, where start and box share coordinates.
            const Vec3 direction = sign * Vec3::Unit(axis);
            Vec3 start = Vec3::Constant(0.5);
            start[axis] = 0.5 - 2 * sign;
            EXPECT_NEAR(box.first_hit(start, direction).distance, 1.5, 1e-15);
            start = Vec3::Constant(0.0);
            start[axis] = 0.5 - 2 * sign;
            EXPECT_NEAR(box.first_hit(start, direction).distance, 1.5, 1e-15);
        }
    }
}

}  // namespace
}  // namespace evenspit
