// SPDX-License-Identifier: MIT
#include "scan/part_sheets.h"

#include <algorithm>
#include <utility>

#include <gtest/gtest.h>

#include "geometry/mesh_io.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "support/meshes.h"

namespace evenspit::scan {
namespace {

// Two cubes that share an edge, or a corner: as a grid's contour has them, with one vertex at each place.
TriangleMesh touching(const Vec3& by) {
    TriangleMesh both = test::box_mesh(Vec3(0, 0, 0), Vec3(1, 1, 1));
    const TriangleMesh other = test::box_mesh(by, by + Vec3(1, 1, 1));
    std::vector<std::int32_t> number;
    for (const Vec3& p : other.vertices) {
        std::int32_t same = -1;
        for (std::size_t v = 0; v < 8; ++v) same = both.vertices[v] == p ? std::int32_t(v) : same;
        number.push_back(same < 0 ? std::int32_t(both.vertices.size()) : same);
        if (same < 0) both.vertices.push_back(p);
    }
    for (Triangle t : other.triangles) {
        for (std::int32_t& v : t) v = number[std::size_t(v)];
        both.triangles.push_back(t);
    }
    return both;
}

TEST(PartSheets, OneSolidStaysAsItIs) {
    const TriangleMesh cube = test::box_mesh(Vec3(0, 0, 0), Vec3(1, 2, 3));
    const auto parted = part_sheets(cube);
    ASSERT_TRUE(parted);
    EXPECT_EQ(parted->vertices.size(), cube.vertices.size());
    EXPECT_EQ(volume_moments(*parted).amount, volume_moments(cube).amount);
}

TEST(PartSheets, CubesThatShareAnEdgeAreTwo) {
    for (const Vec3& by : {Vec3(1, 1, 0), Vec3(-1, 1, 0), Vec3(0, 1, 1), Vec3(1, 0, -1)}) {
        const TriangleMesh cubes = touching(by);
        ASSERT_EQ(cubes.vertices.size(), 14U);
        EXPECT_EQ(check_solid(cubes).fault, SolidFault::non_manifold);
        const auto parted = part_sheets(cubes);
        ASSERT_TRUE(parted);
        EXPECT_TRUE(check_solid(*parted).ok()) << check_solid(*parted).found;
        EXPECT_EQ(parted->vertices.size(), 16U) << "the edge's ends, once for each sheet";
        EXPECT_NEAR(volume_moments(*parted).amount, 2, 1e-15);
        EXPECT_EQ(check_solid(*parted).components, 2);
    }
}

TEST(PartSheets, CubesThatShareACornerAreTwo) {
    const auto parted = part_sheets(touching({1, 1, 1}));
    ASSERT_TRUE(parted);
    EXPECT_TRUE(check_solid(*parted).ok());
    EXPECT_EQ(parted->vertices.size(), 16U);
    EXPECT_EQ(check_solid(*parted).components, 2);
}

// A plate so thin in its middle that its sides share an edge there stays one plate with two sides.
TEST(PartSheets, TheTwoSidesOfAFinStayWhole) {
    TriangleMesh fin;
    constexpr int n = 6;
    const auto at = [](int i, int j) { return std::int32_t(i * (n + 1) + j); };
    // Two nets of places over each other, thinner towards the middle, where two places are one.
    for (const double side : {1.0, -1.0}) {
        for (int i = 0; i <= n; ++i) {
            for (int j = 0; j <= n; ++j) {
                const bool pinched = i == 3 && (j == 3 || j == 4);
                const bool rim = i == 0 || j == 0 || i == n || j == n;
                fin.vertices.emplace_back(i, j, pinched || rim ? 0 : 0.2 * side);
            }
        }
    }
    constexpr std::int32_t below = (n + 1) * (n + 1);
    const auto place = [&](int i, int j, bool top) {
        const bool one = i == 0 || j == 0 || i == n || j == n || (i == 3 && (j == 3 || j == 4));
        return at(i, j) + (top || one ? 0 : below);
    };
    for (int i = 0; i < n; ++i) {
        for (int j = 0; j < n; ++j) {
            for (const bool top : {true, false}) {
                const std::int32_t a = place(i, j, top), b = place(i + 1, j, top),
                                   c = place(i + 1, j + 1, top), d = place(i, j + 1, top);
                for (const Triangle& t : {Triangle{a, b, c}, Triangle{a, c, d}}) {
                    // In two of the plate's corners there is nothing between the sides.
                    const bool flat = std::all_of(t.begin(), t.end(), [&](std::int32_t v) {
                        return fin.vertices[std::size_t(v)].z() == 0;
                    });
                    if (!flat) fin.triangles.push_back(top ? t : Triangle{t[0], t[2], t[1]});
                }
            }
        }
    }
    ASSERT_EQ(check_solid(fin).fault, SolidFault::non_manifold);
    const auto parted = part_sheets(fin);
    ASSERT_TRUE(parted);
    EXPECT_TRUE(check_solid(*parted).ok()) << check_solid(*parted).found;
    EXPECT_EQ(check_solid(*parted).components, 1);
    EXPECT_NEAR(volume_moments(*parted).amount, volume_moments(fin).amount, 1e-12);
}

TEST(PartSheets, NothingIsPartedThatHasAHole) {
    TriangleMesh cubes = touching({1, 1, 0});
    cubes.triangles.pop_back();
    EXPECT_FALSE(part_sheets(cubes));
    TriangleMesh turned = touching({1, 1, 0});
    std::swap(turned.triangles.back()[0], turned.triangles.back()[1]);
    EXPECT_FALSE(part_sheets(turned));
}

// A wall without thickness on a cube's edge.
TriangleMesh with_wall() {
    TriangleMesh cube = test::box_mesh(Vec3(0, 0, 0), Vec3(1, 1, 1));
    const std::int32_t a = cube.triangles.front()[0], b = cube.triangles.front()[1];
    cube.vertices.emplace_back(3, 4, 5);
    const auto tip = std::int32_t(cube.vertices.size() - 1);
    cube.triangles.push_back({a, b, tip});
    cube.triangles.push_back({b, a, tip});
    return cube;
}

TEST(PartSheets, AWallWithoutThicknessIsParted) {
    const TriangleMesh walled = with_wall();
    ASSERT_EQ(check_solid(walled).fault, SolidFault::non_manifold);
    const auto parted = part_sheets(walled);
    ASSERT_TRUE(parted);
    EXPECT_TRUE(check_solid(*parted).ok()) << check_solid(*parted).found;
    EXPECT_EQ(parted->triangles.size(), walled.triangles.size());
    EXPECT_NEAR(volume_moments(*parted).amount, 1, 1e-15);
}

TEST(PartSheets, SheetsThatFaceAlikeOnEachOtherAreRefused) {
    TriangleMesh walled = with_wall();
    walled.triangles.push_back(walled.triangles[walled.triangles.size() - 2]);
    walled.triangles.push_back(walled.triangles[walled.triangles.size() - 2]);
    EXPECT_FALSE(part_sheets(walled));
}

}  // namespace
}  // namespace evenspit::scan
