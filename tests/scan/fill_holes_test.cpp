// SPDX-License-Identifier: MIT
#include "scan/fill_holes.h"

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <stdexcept>
#include <utility>

#include <gtest/gtest.h>

#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "scan/self_intersections.h"
#include "support/meshes.h"

namespace evenspit::scan {
namespace {

using test::box_mesh;
using test::ellipsoid_mesh;

TriangleMesh ellipsoid() {
    return ellipsoid_mesh(0.15, 0.1, 0.08, Vec3(1, 2, 3), 96, 64);
}

TriangleMesh with_two_holes() {
    TriangleMesh mesh = ellipsoid();
    std::erase_if(mesh.triangles, [&](const Triangle& t) {
        const Vec3 p = mesh.corner(t, 0) - Vec3(1, 2, 3);
        return p.z() > 0.076 || (p - Vec3(0.1, 0.0745, 0)).norm() < 0.015;
    });
    return mesh;
}

// Each triangle alone, every third turned over: as the worst of STL files.
TriangleMesh soup_of(const TriangleMesh& mesh) {
    TriangleMesh soup;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto first = std::int32_t(soup.vertices.size());
        for (int k = 0; k < 3; ++k) soup.vertices.push_back(mesh.corner(mesh.triangles[t], k));
        soup.triangles.push_back({first, first + 1, first + 2});
        if (t % 3 == 0) std::swap(soup.triangles.back()[0], soup.triangles.back()[1]);
    }
    return soup;
}

TEST(FillHoles, GoesOnAsTheSurfaceDoesBesideThem) {
    const TriangleMesh whole = ellipsoid(), holed = with_two_holes();
    ASSERT_FALSE(check_solid(holed).ok());
    const std::optional<FilledMesh> filled = fill_holes(holed);
    ASSERT_TRUE(filled);
    EXPECT_EQ(filled->holes, 2);
    EXPECT_TRUE(check_solid(filled->mesh).ok()) << check_solid(filled->mesh).found;
    EXPECT_TRUE(self_intersections(filled->mesh).empty());
    const Moments wanted = volume_moments(whole), found = volume_moments(filled->mesh);
    EXPECT_NEAR(found.amount, wanted.amount, 0.002 * wanted.amount);
    EXPECT_LT((found.centre - wanted.centre).norm(), 2e-4);
    EXPECT_GT(filled->filled_share, 0.01);
    EXPECT_LT(filled->filled_share, 0.05);
    // What was there has not moved, and what is new is known.
    const auto key = [](const Vec3& p) { return std::array{p.x(), p.y(), p.z()}; };
    std::set<std::array<double, 3>> old;
    for (const Vec3& p : holed.vertices) old.insert(key(p));
    ASSERT_EQ(filled->at_filling.size(), filled->mesh.vertices.size());
    std::size_t kept = 0;
    for (std::size_t v = 0; v < filled->mesh.vertices.size(); ++v) {
        if (old.contains(key(filled->mesh.vertices[v]))) {
            ++kept;
        } else {
            EXPECT_TRUE(filled->at_filling[v]);
        }
    }
    EXPECT_GT(kept, 0.9 * double(holed.vertices.size()));
    EXPECT_GT(std::count(filled->at_filling.begin(), filled->at_filling.end(), true), 50);
}

TEST(FillHoles, PutsASoupOfTrianglesTogether) {
    const std::optional<FilledMesh> closed = fill_holes(soup_of(ellipsoid()));
    ASSERT_TRUE(closed);
    EXPECT_EQ(closed->holes, 0);
    EXPECT_EQ(closed->filled_share, 0);
    EXPECT_EQ(closed->mesh.triangles.size(), ellipsoid().triangles.size());
    EXPECT_NEAR(volume_moments(closed->mesh).amount, volume_moments(ellipsoid()).amount, 1e-12);
    const std::optional<FilledMesh> filled = fill_holes(soup_of(with_two_holes()));
    ASSERT_TRUE(filled);
    EXPECT_EQ(filled->holes, 2);
    EXPECT_TRUE(check_solid(filled->mesh).ok());
}

TEST(FillHoles, TurnsWhatIsInsideOut) {
    TriangleMesh mesh = with_two_holes();
    for (Triangle& t : mesh.triangles) std::swap(t[0], t[1]);
    const std::optional<FilledMesh> filled = fill_holes(mesh);
    ASSERT_TRUE(filled);
    EXPECT_GT(volume_moments(filled->mesh).amount, 0);
}

TEST(FillHoles, LeavesAloneWhatItCannotClose) {
    EXPECT_FALSE(fill_holes({}));
    // In pieces.
    TriangleMesh boxes = box_mesh({0, 0, 0}, {1, 1, 1});
    const TriangleMesh other = box_mesh({3, 0, 0}, {4, 1, 1});
    for (const Vec3& v : other.vertices) boxes.vertices.push_back(v);
    for (const Triangle& t : other.triangles) boxes.triangles.push_back({t[0] + 8, t[1] + 8, t[2] + 8});
    EXPECT_FALSE(fill_holes(boxes));
    // Pulled through itself.
    TriangleMesh spiked = with_two_holes();
    Vec3& lowest = *std::min_element(spiked.vertices.begin(), spiked.vertices.end(),
                                     [](const Vec3& a, const Vec3& b) { return a.x() < b.x(); });
    lowest += Vec3(0.5, 0.003, 0.002);
    ASSERT_FALSE(self_intersections(spiked).empty());
    EXPECT_FALSE(fill_holes(spiked));
}

TEST(FillHoles, IsStoppedWhileItWorks) {
    int looks = 0;
    const StopControl control([&] {
        if (++looks == 1) throw std::runtime_error("stopped");
    });
    EXPECT_THROW(fill_holes(with_two_holes(), control), std::runtime_error);
}

}  // namespace
}  // namespace evenspit::scan
