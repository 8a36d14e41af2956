// SPDX-License-Identifier: MIT
#include "scan/hollow.h"

#include <gtest/gtest.h>

namespace evenspit::scan {
namespace {

// As an arch of ribs was seen.
Resting arched() {
    Resting resting;
    resting.height_to_width = 0.41;
    resting.hidden_share = 0.24;
    resting.low_flanks = -0.12;
    return resting;
}

constexpr double near_m = 0.0015;  // of a round body to what was seen of an arch

TEST(Hollow, AnArchIsTakenForAHollowOneButMayBeSolid) {
    const Hollow hollow = hollow_beneath(arched(), near_m, RoastKind::automatic);
    EXPECT_TRUE(hollow.ask);
    EXPECT_GT(hollow.odds, 0.8);
    EXPECT_LT(hollow.odds, 0.95);
    EXPECT_GT(hollow.rise, 0.08);
    // A fifth of the volume lies under an arch as high as a quarter of the body: solid is within twice the
    // error.
    EXPECT_LT(0.2 * hollow.rise / 0.25, 2 * hollow.sigma);
}

TEST(Hollow, AirSeenUnderTheMiddleMakesItHigher) {
    Resting seen = arched();
    seen.air_in_middle = 0.3;
    const Hollow little = hollow_beneath(arched(), near_m, RoastKind::automatic),
                 much = hollow_beneath(seen, near_m, RoastKind::automatic);
    EXPECT_GT(much.rise, 1.5 * little.rise);
    EXPECT_GT(much.sigma, little.sigma);
}

TEST(Hollow, WhatIsHighOrCurvesUnderOrHidesMuchIsSolid) {
    Resting high = arched(), curved = arched(), hidden = arched();
    high.height_to_width = 0.6;
    curved.low_flanks = -0.33;
    hidden.hidden_share = 0.4;  // as a fish does
    for (const Resting& resting : {high, curved, hidden}) {
        const Hollow hollow = hollow_beneath(resting, near_m, RoastKind::automatic);
        EXPECT_FALSE(hollow.ask);
        EXPECT_LT(hollow.rise, 0.003);
        EXPECT_LT(hollow.sigma, 0.015);
    }
}

// As low and wide as ribs, but no such shape: a soft bird that lies spread.
TEST(Hollow, WhatNoRoundBodyIsLikeIsSolid) {
    const Hollow hollow = hollow_beneath(arched(), 0.009, RoastKind::automatic);
    EXPECT_FALSE(hollow.ask);
    EXPECT_LT(hollow.rise, 0.003);
    EXPECT_LT(hollow.sigma, 0.015);
}

TEST(Hollow, WhatIsToldIsBelieved) {
    const Hollow solid = hollow_beneath(arched(), near_m, RoastKind::roast);
    EXPECT_FALSE(solid.ask);
    EXPECT_EQ(solid.rise, 0);
    EXPECT_EQ(solid.sigma, 0);
    Resting high = arched();
    high.height_to_width = 0.8;
    const Hollow ribs = hollow_beneath(high, near_m, RoastKind::ribs),
                 asked = hollow_beneath(arched(), near_m, RoastKind::automatic);
    EXPECT_FALSE(ribs.ask);
    EXPECT_EQ(ribs.odds, 1);
    EXPECT_GT(ribs.rise, asked.rise);
    EXPECT_LT(ribs.sigma, asked.sigma);
}

}  // namespace
}  // namespace evenspit::scan
