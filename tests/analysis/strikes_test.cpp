// SPDX-License-Identifier: MIT
#include "analysis/strikes.h"

#include <gtest/gtest.h>

namespace evenspit {
namespace {

RodResult sagging(double middle_m) {
    RodResult rod;
    rod.sag = {{0, 0}, {0.4, middle_m}, {0.8, 0}};
    return rod;
}

/// A roller of 100 mm radius from 300 to 500 mm.
Clearance roller(double gap_m, const Vec3& on_surface) {
    Clearance clearance;
    clearance.outline.pieces = {{0.3, 0.1, 0.5, 0.1, 0}};
    SurfaceGap gap;
    gap.gap_m = gap_m;
    gap.at_m = 0.4;
    gap.on_surface = on_surface;
    gap.part = {Thing::Kind::item, 0};
    clearance.surfaces = {gap};
    return clearance;
}

std::vector<Vec2> level_wall(double distance_m) {
    std::vector<Vec2> wall;
    for (int i = 0; i <= 80; ++i) wall.emplace_back(i / 100.0, distance_m);
    return wall;
}

TEST(SagAt, RunsStraightBetweenStations) {
    const RodResult rod = sagging(0.02);
    EXPECT_DOUBLE_EQ(sag_at(rod, 0.2), 0.01);
    EXPECT_DOUBLE_EQ(sag_at(rod, 0.4), 0.02);
    EXPECT_DOUBLE_EQ(sag_at(rod, 2), 0);
    EXPECT_EQ(sag_at({}, 0.2), 0);
}

TEST(Strikes, WhatClearsStrikesNothing) {
    EXPECT_TRUE(strikes(roller(0.005, {0.4, 0, -0.12}), sagging(0.015), {level_wall(0.12)}).empty());
}

TEST(Strikes, SagBringsItDownOntoWhatIsBelow) {
    // 105 mm away, 100 mm of radius: it strikes where the rod is down by more than 5 mm, from 200/0.02·0.005
    // = 100 mm on; of that the roller has 300 to 500 mm.
    const auto found = strikes(roller(-0.015, {0.4, 0, -0.105}), sagging(0.02), {level_wall(0.105)});
    ASSERT_EQ(found.size(), 1U);
    EXPECT_NEAR(found[0].from_m, 0.30, 0.0101);
    EXPECT_NEAR(found[0].to_m, 0.50, 0.0101);
    EXPECT_EQ(found[0].part, (Thing{Thing::Kind::item, 0}));
    // 118 mm away: where it is down by more than 18 mm, 360 to 440 mm.
    const auto nearer = strikes(roller(-0.002, {0.4, 0, -0.118}), sagging(0.02), {level_wall(0.118)});
    ASSERT_EQ(nearer.size(), 1U);
    EXPECT_NEAR(nearer[0].from_m, 0.37, 0.0101);
    EXPECT_NEAR(nearer[0].to_m, 0.43, 0.0101);
}

TEST(Strikes, SagTakesItAwayFromWhatIsAbove) {
    const auto found = strikes(roller(-0.001, {0.4, 0, 0.085}), sagging(0.02), {level_wall(0.085)});
    ASSERT_FALSE(found.empty());
    // In the middle it is down to 80 mm, under the lid at 85 mm; the middle is told all the same, for the
    // gap says so.
    for (const Strike& strike : found) {
        const bool middle = strike.from_m == 0.4 && strike.to_m == 0.4;
        EXPECT_TRUE(middle || strike.to_m < 0.36 || strike.from_m > 0.44);
    }
    EXPECT_DOUBLE_EQ(sag_toward(roller(0, {0.4, 0, 0.2}).surfaces[0]), -1);
    EXPECT_DOUBLE_EQ(sag_toward(roller(0, {0.4, 0.2, 0}).surfaces[0]), 0);
}

TEST(Strikes, WhereItComesNearestIsNeverMissed) {
    const auto found = strikes(roller(-0.001, {0.4, 0, -0.1}), sagging(0), {{}});
    ASSERT_EQ(found.size(), 1U);
    EXPECT_EQ(found[0].from_m, 0.4);
    EXPECT_EQ(found[0].to_m, 0.4);
}

}  // namespace
}  // namespace evenspit
