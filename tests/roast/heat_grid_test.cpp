// SPDX-License-Identifier: MIT
#include "roast/heat_grid.h"

#include <numeric>
#include <set>

#include <gtest/gtest.h>

#include "body/bird.h"
#include "body/cavity_wall.h"
#include "geometry/moments.h"
#include "roast/body_foods.h"
#include "roast/heat_cases.h"

namespace evenspit {
namespace {

double area_of(const TriangleMesh& mesh) {
    double sum = 0;
    for (const Triangle& t : mesh.triangles)
        sum +=
            0.5 * (mesh.corner(t, 1) - mesh.corner(t, 0)).cross(mesh.corner(t, 2) - mesh.corner(t, 0)).norm();
    return sum;
}

TEST(CellCuts, OfABoxAreItsVolumeAndFaces) {
    const SolidQueries box(test::box_mesh(Vec3(0, 0, 0), Vec3(0.0305, 0.0204, 0.0103)));
    CellCuts cuts(CellBox::around(bounds(box.mesh()), 0.002));
    cuts.add(box, +1);
    cuts.finish();
    const double cube = std::pow(0.002, 3);
    double volume = 0;
    Vec3 first = Vec3::Zero();
    for (std::size_t c = 0; c < cuts.box().size(); ++c) {
        volume += cube * cuts.filled()[c];
        first += cube * cuts.filled()[c] * cuts.box().centre(c);
    }
    EXPECT_NEAR(volume / (0.0305 * 0.0204 * 0.0103), 1, 1e-6);
    // A plane across each axis through the middle meets the whole cross-section.
    const std::array<double, 3> sections{0.0204 * 0.0103, 0.0305 * 0.0103, 0.0305 * 0.0204};
    for (int axis = 0; axis < 3; ++axis) {
        double open = 0;
        for (std::size_t c = 0; c < cuts.box().size(); ++c) {
            if (cuts.box().place(c)[std::size_t(axis)] == cuts.box().count[std::size_t(axis)] / 2)
                open += cuts.open()[std::size_t(axis)][c] * 0.002 * 0.002;
        }
        EXPECT_NEAR(open / sections[std::size_t(axis)], 1, 1e-5) << axis;
    }
}

// Of a ball cut by a plane across an axis, the disc; all to the facets' exactness.
TEST(CellCuts, OfABallAreDiscs) {
    const double r = 0.03;
    const SolidQueries ball(test::ball_mesh(r, 400, 300));
    CellCuts cuts(CellBox::around(bounds(ball.mesh()), 0.0025));
    cuts.add(ball, +1);
    cuts.finish();
    for (int axis = 0; axis < 3; ++axis) {
        const double centre = Vec3(0.0011, -0.0007, 0.0004)[axis];
        for (std::int32_t plane = 0; plane < cuts.box().count[std::size_t(axis)]; ++plane) {
            const double off = cuts.box().origin[axis] + 0.0025 * (plane + 1) - centre;
            const double disc = std::numbers::pi * std::max(0.0, r * r - off * off);
            double open = 0;
            for (std::size_t c = 0; c < cuts.box().size(); ++c) {
                if (cuts.box().place(c)[std::size_t(axis)] == plane)
                    open += cuts.open()[std::size_t(axis)][c] * 0.0025 * 0.0025;
            }
            EXPECT_NEAR(open, disc, 1e-3 * std::numbers::pi * r * r) << axis << ' ' << plane;
        }
    }
}

TEST(HeatGrid, KeepsVolumeAndAreaOfEachTriangle) {
    for (const double spacing : {0.002, 0.005}) {
        const auto body = test::lump(test::ball_mesh(0.03, 40, 30));
        const HeatGrid grid = heat_grid(*body, {.spacing_m = spacing});
        const TriangleMesh& mesh = body->body.parts[0].mesh;
        EXPECT_NEAR(grid.volume_m3() / volume_moments(mesh).amount, 1, 1e-5);
        EXPECT_NEAR(grid.area_m2() / area_of(mesh), 1, 1e-5);
        EXPECT_EQ(grid.lost_area_m2, 0);
        std::vector<double> area(mesh.triangles.size(), 0.0);
        for (const SurfacePatch& patch : grid.patches) {
            area[std::size_t(patch.triangle)] += patch.area_m2;
            const SurfaceSpot& spot = grid.spots[std::size_t(patch.spot)];
            EXPECT_GT(spot.depth_m, 0);
            EXPECT_TRUE(grid.carries(std::size_t(spot.cell)));
            EXPECT_TRUE(grid.is_inside(std::size_t(spot.under)));
        }
        for (std::size_t t = 0; t < area.size(); ++t) {
            const Triangle& tri = mesh.triangles[t];
            const double own = 0.5 * (mesh.corner(tri, 1) - mesh.corner(tri, 0))
                                         .cross(mesh.corner(tri, 2) - mesh.corner(tri, 0))
                                         .norm();
            EXPECT_NEAR(area[t], own, 1e-5 * own + 1e-12);
        }
    }
}

TEST(HeatGrid, LeavesNoStiffCells) {
    const auto body = test::lump(test::ball_mesh(0.03));
    const HeatGrid grid = heat_grid(*body, {.spacing_m = 0.003});
    for (std::size_t c = 0; c < grid.box.size(); ++c) {
        if (!grid.carries(c)) continue;
        float faces = 0;
        for (int axis = 0; axis < 3; ++axis) {
            const std::vector<float>& open = grid.open[std::size_t(axis)];
            faces += open[c] + open[c - grid.box.stride(axis)];
        }
        EXPECT_LT(faces / grid.filled[c], 9);
        const double off = (grid.box.centre(c) - Vec3(0.0011, -0.0007, 0.0004)).norm();
        EXPECT_LT(off, grid.is_inside(c) ? 0.03 + 1e-4 : 0.03 + 0.003);
        EXPECT_TRUE(grid.is_inside(std::size_t(grid.owner[c])));
    }
}

TEST(HeatGrid, OfABirdHoldsItsVolumeSkinBonesAndRegions) {
    const auto body = body::prepare(body::make_bird({.mass_kg = 5.9}));
    const HeatGrid grid = heat_grid(*body, {.spacing_m = 0.004});
    EXPECT_NEAR(grid.volume_m3() / body->volume_m3, 1, 2e-4);
    EXPECT_LT(grid.lost_volume_m3, 1e-5 * body->volume_m3);
    double bone = 0, skin = 0, mass = 0;
    std::set<int> regions;
    for (const Tissue& tissue : grid.tissues) {
        mass += tissue.volume_m3 * tissue.density_kg_m3;
        if (tissue.kind == TissueKind::bone) bone += tissue.volume_m3;
        if (tissue.kind == TissueKind::skin) skin += tissue.volume_m3;
        if (tissue.kind == TissueKind::lean) regions.insert(tissue.region);
    }
    EXPECT_NEAR(mass / 5.9, 1, 0.01);
    double bones = 0, skin_kg = 0;
    for (const body::Part& part : body->body.parts) {
        if (part.kind == body::PartKind::bone) bones += volume_moments(part.mesh).amount;
    }
    for (const body::PartShare& share : body->body.shares) skin_kg += share.tissues.skin_and_fat_kg;
    EXPECT_NEAR(bone / bones, 1, 0.03);
    EXPECT_NEAR(skin * 990 / skin_kg, 1, 0.2);
    EXPECT_GE(regions.size(), 10u);
    // The wall of the empty cavity faces its hollow, the rest the outside.
    ASSERT_EQ(grid.enclosures.size(), 1u);
    EXPECT_FALSE(grid.enclosures[0].closed);
    double wall = 0, facing = 0;
    const body::Part& flesh = body->body.parts[0];
    for (std::size_t t = 0; t < flesh.regions.size(); ++t) {
        if (body->body.region_table[flesh.regions[t]].kind != body::RegionKind::cavity_wall) continue;
        const Triangle& tri = flesh.mesh.triangles[t];
        wall += 0.5 * (flesh.mesh.corner(tri, 1) - flesh.mesh.corner(tri, 0))
                          .cross(flesh.mesh.corner(tri, 2) - flesh.mesh.corner(tri, 0))
                          .norm();
    }
    for (const SurfaceSpot& spot : grid.spots) facing += spot.enclosure == 0 ? spot.area_m2 : 0;
    EXPECT_NEAR(facing / wall, 1, 1e-4);
}

TEST(HeatGrid, PressesStuffingToTheWall) {
    const auto empty = body::prepare(body::make_bird({.mass_kg = 5.9}));
    const auto stuffed = body::prepare(body::make_bird({.mass_kg = 5.9, .stuffing_kg = 0.9}));
    const auto wall = [](const body::PreparedBody& body) {
        const HeatGrid grid = heat_grid(body, {.spacing_m = 0.004});
        double area = 0;
        for (const SurfacePatch& patch : grid.patches) {
            const bool is_skin = patch.triangle < std::int32_t(body.body.parts[0].mesh.triangles.size());
            if (is_skin && grid.spots[std::size_t(patch.spot)].enclosure >= 0) area += patch.area_m2;
        }
        return area;
    };
    EXPECT_LT(wall(*stuffed), 0.9 * wall(*empty));
}

TEST(HeatGrid, RefusesSpacingsThatMakeNoSense) {
    const auto body = test::lump(test::ball_mesh(0.03, 20, 10));
    EXPECT_THROW(heat_grid(*body, {.spacing_m = 0}), std::invalid_argument);
    EXPECT_THROW(heat_grid(*body, {.spacing_m = 1e-6}), std::invalid_argument);
}

}  // namespace
}  // namespace evenspit
