// SPDX-License-Identifier: MIT
#include "roast/heat_cells.h"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

constexpr float nothing = std::numeric_limits<float>::quiet_NaN();

/// 3 × 3 × 3 cubes of 10 mm, as hot as a plane through space tells.
HeatCells slanted() {
    HeatCells cells;
    cells.origin = Vec3(0.1, 0, -0.05);
    cells.spacing_m = 0.01;
    cells.count = {3, 3, 3};
    for (int z = 0; z < 3; ++z) {
        for (int y = 0; y < 3; ++y) {
            for (int x = 0; x < 3; ++x)
                cells.temperature_k.push_back(static_cast<float>(300 + x + 10 * y + 100 * z));
        }
    }
    return cells;
}

TEST(HeatCells, AreStraightBetweenTheirCentres) {
    const HeatCells cells = slanted();
    EXPECT_NEAR(cells.at(cells.origin).value(), 300, 1e-4);
    EXPECT_NEAR(cells.at(cells.origin + Vec3(0.0125, 0.0175, 0.002)).value(), 300 + 1.25 + 17.5 + 20, 1e-4);
    EXPECT_NEAR(cells.at(cells.origin + Vec3(0.02, 0.02, 0.02)).value(), 522, 1e-4);
    EXPECT_FALSE(cells.at(cells.origin + Vec3(0.0201, 0, 0)));
    EXPECT_FALSE(cells.at(cells.origin - Vec3(0, 0.0001, 0)));
}

TEST(HeatCells, TellNothingWhereACubeHasNothing) {
    HeatCells cells = slanted();
    cells.temperature_k[0] = nothing;
    EXPECT_FALSE(cells.at(cells.origin + Vec3(0.005, 0.005, 0.005)));
    EXPECT_TRUE(cells.at(cells.origin + Vec3(0.015, 0.005, 0.005)));
    // On the face of its neighbours it counts for nothing.
    EXPECT_NEAR(cells.at(cells.origin + Vec3(0.01, 0.005, 0.005)).value(), 301 + 5 + 50, 1e-4);
}

TEST(HeatCells, GrowByTheMeanOfTheirNeighbours) {
    HeatCells cells = slanted();
    cells.temperature_k.assign(27, nothing);
    cells.temperature_k[0] = 300;  // at one corner
    cells.temperature_k[2] = 310;  // two along x from it
    cells.grow();
    EXPECT_EQ(cells.temperature_k[0], 300);
    EXPECT_EQ(cells.temperature_k[1], 305) << "between the two";
    EXPECT_EQ(cells.temperature_k[3], 300) << "beside the first alone";
    EXPECT_TRUE(std::isnan(cells.temperature_k[6])) << "two away from both";
    cells.grow();
    EXPECT_TRUE(std::isfinite(cells.temperature_k[6]));
}

}  // namespace
}  // namespace evenspit
