// SPDX-License-Identifier: MIT
#include "body/cavity_wall.h"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "body/shape.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "support/meshes.h"

namespace evenspit::body {
namespace {

// A ball's skin with another ball's, turned over, inside.
TriangleMesh hollow_ball(std::size_t& outer) {
    TriangleMesh mesh = test::ellipsoid_mesh(0.1, 0.1, 0.1, Vec3::Zero(), 48, 32);
    outer = mesh.triangles.size();
    const TriangleMesh inner = test::ellipsoid_mesh(0.04, 0.05, 0.06, Vec3(0.01, 0, 0), 48, 32);
    const auto at = std::int32_t(mesh.vertices.size());
    mesh.vertices.insert(mesh.vertices.end(), inner.vertices.begin(), inner.vertices.end());
    for (const Triangle& t : inner.triangles) mesh.triangles.push_back({t[0] + at, t[2] + at, t[1] + at});
    return mesh;
}

TEST(CavityWall, AClosedOneEnclosesItsHollow) {
    std::size_t outer = 0;
    const TriangleMesh mesh = hollow_ball(outer);
    std::vector<bool> wall(mesh.triangles.size(), true);
    std::fill(wall.begin(), wall.begin() + std::ptrdiff_t(outer), false);
    const TriangleMesh hollow = behind_wall(mesh, wall).value();
    EXPECT_TRUE(check_solid(hollow).ok());
    EXPECT_EQ(hollow.triangles.size(), mesh.triangles.size() - outer);
    const Moments wanted = volume_moments(test::ellipsoid_mesh(0.04, 0.05, 0.06, Vec3(0.01, 0, 0), 48, 32));
    const Moments found = volume_moments(hollow);
    EXPECT_GT(found.amount, wanted.amount) << "no gap to the flesh";
    EXPECT_NEAR(found.amount, wanted.amount, 2e-4 * wanted.amount);
    EXPECT_LT((found.centre - wanted.centre).norm(), 1e-6);
}

TEST(CavityWall, AnOpenOneIsClosedAcrossItsOpenings) {
    // The inner ball's wall without its caps at either end of z.
    std::size_t outer = 0;
    const TriangleMesh mesh = hollow_ball(outer);
    std::vector<bool> wall(mesh.triangles.size(), false);
    for (std::size_t t = outer; t < wall.size(); ++t) {
        const double z = mesh.corner(mesh.triangles[t], 0).z();
        wall[t] = z > -0.03 && z < 0.03;
    }
    const TriangleMesh hollow = behind_wall(mesh, wall).value();
    EXPECT_TRUE(check_solid(hollow).ok());
    EXPECT_LT(bounds(hollow).max().z(), 0.04);
    EXPECT_GT(bounds(hollow).min().z(), -0.04);
    // Of an ellipsoid cut at half its height on either side, 11/16 are left; the cuts follow the rims.
    const double whole = 4.0 / 3 * 3.14159265358979 * 0.04 * 0.05 * 0.06;
    EXPECT_NEAR(volume_moments(hollow).amount, 11.0 / 16 * whole, 0.06 * whole);
}

TEST(CavityWall, IsThatOfTheBird) {
    for (const auto& [name, mass_kg] :
         {std::pair{"turkey", 6.0}, {"goose", 4.0}, {"chicken", 1.7}, {"duck", 2.3}}) {
        ShapeOptions options;
        options.species = name;
        options.mass_kg = mass_kg;
        const Body bird = make_shape(options);
        std::vector<bool> wall;
        for (const std::uint8_t region : bird.parts[0].regions)
            wall.push_back(bird.region_table[region].kind == RegionKind::cavity_wall);
        const TriangleMesh hollow = behind_wall(bird.parts[0].mesh, wall).value();
        double cavity = 0;
        for (const Part& part : bird.parts) {
            if (part.kind == PartKind::cavity) cavity += volume_moments(part.mesh).amount;
        }
        EXPECT_NEAR(volume_moments(hollow).amount, cavity, 0.1 * cavity) << name;
    }
}

TEST(CavityWall, WithoutAWallThereIsNothing) {
    const TriangleMesh ball = test::ellipsoid_mesh(0.1, 0.1, 0.1, Vec3::Zero(), 24, 16);
    EXPECT_FALSE(behind_wall(ball, std::vector<bool>(ball.triangles.size(), false)));
    std::vector<bool> one(ball.triangles.size(), false);
    one[100] = true;
    EXPECT_FALSE(behind_wall(ball, one)) << "a single triangle encloses nothing";
}

}  // namespace
}  // namespace evenspit::body
