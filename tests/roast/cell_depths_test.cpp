// SPDX-License-Identifier: MIT
#include "roast/cell_depths.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "body/bird.h"
#include "roast/heat_cases.h"

namespace evenspit {
namespace {

/// How far depths up to `upto_m` are off at most, in cells; `depth_m` tells the true one at a cell's centre.
template <typename Depth>
double worst_in_cells(const HeatGrid& grid, const Depth& depth_m, double upto_m = 1) {
    const std::vector<float> found = cell_depths_m(grid);
    double worst = 0;
    for (std::size_t cell = 0; cell < found.size(); ++cell) {
        if (!grid.carries(cell) || !grid.is_inside(cell)) {
            EXPECT_EQ(found[cell], 0);
            continue;
        }
        const double true_m = depth_m(grid.box.centre(cell));
        if (true_m <= upto_m) worst = std::max(worst, std::abs(double(found[cell]) - true_m));
    }
    return worst / grid.box.spacing_m;
}

TEST(CellDepths, OfABoxAreToItsNearestFace) {
    const Vec3 size(0.061, 0.043, 0.037);
    for (const double spacing : {0.002, 0.004}) {
        const HeatGrid grid =
            heat_grid(*test::lump(test::box_mesh(Vec3::Zero(), size)), {.spacing_m = spacing});
        const double worst = worst_in_cells(
            grid, [&](const Vec3& p) { return std::min(p.minCoeff(), (size - p).minCoeff()); });
        EXPECT_LT(worst, 0.5);
    }
}

// Errors add up inward; what counts is the first centimetre or two.
TEST(CellDepths, OfABallAreToItsSkin) {
    const double r = 0.03;
    const Vec3 centre(0.0011, -0.0007, 0.0004);
    for (const double spacing : {0.002, 0.004, 0.006}) {
        const HeatGrid grid = heat_grid(*test::lump(test::ball_mesh(r, 100, 80)), {.spacing_m = spacing});
        for (const double upto_m : {0.015, r}) {
            const double worst = worst_in_cells(
                grid, [&](const Vec3& p) { return r - (p - centre).norm(); }, upto_m);
            EXPECT_LT(worst, upto_m < r ? 0.6 : 1.1) << spacing;
        }
    }
}

// Along a hollow too: a thermometer's tip that comes out there tells nothing of the meat.
TEST(CellDepths, OfABirdAreToItsSkinOrHollow) {
    const auto bird = body::prepare(body::make_bird({.species = "chicken", .mass_kg = 1.6}));
    const HeatGrid grid = heat_grid(*bird, {.spacing_m = 0.004});
    const std::vector<float> depths_m = cell_depths_m(grid);
    const body::Part& flesh = bird->body.parts[0];
    int tried = 0, near_hollow = 0;
    for (std::size_t cell = 0; cell < depths_m.size(); cell += 7) {
        if (!grid.carries(cell) || !grid.is_inside(cell)) continue;
        const ClosestPoint nearest = bird->queries[0].closest(grid.box.centre(cell));
        ++tried;
        const std::size_t region = flesh.regions[std::size_t(nearest.triangle)];
        if (bird->body.region_table[region].kind == body::RegionKind::cavity_wall) ++near_hollow;
        EXPECT_NEAR(depths_m[cell], nearest.distance, 0.75 * grid.box.spacing_m);
    }
    EXPECT_GT(tried, 1000);
    EXPECT_GT(near_hollow, tried / 20);
}

}  // namespace
}  // namespace evenspit
