// SPDX-License-Identifier: MIT
#include "analysis/chance.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <random>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "analysis/limits.h"
#include "analysis/mountings.h"
#include "loads.h"
#include "support/said.h"

namespace evenspit {
namespace {

using test::good_load;

CookerSurface lid(double height_m) {
    return {.name = "lid",
            .shape = PlaneShape{{0, 0, height_m}, -Vec3::UnitZ()},
            .fire = false,
            .temperature_k = {},
            .keep_m = 0.025};
}

/// The good load under a lid; only how the rod runs through it is unsure.
Assembly under_lid(double height_m) {
    Assembly a = good_load();
    a.spread = Spread::none();
    a.spread.rod_line_m = 0.004;
    a.cooker.surfaces = {lid(height_m)};
    return a;
}

const Finding* find(const Analysis& a, Code code) {
    const auto found = std::find_if(a.findings.begin(), a.findings.end(),
                                    [code](const Finding& f) { return f.code == code; });
    return found == a.findings.end() ? nullptr : &*found;
}

/// The load with the gap as written, its surface so far away.
Assembly with_gap(double gap_m) {
    const double now = analyse(under_lid(0.2)).clearance.gap_min_m.value();
    return under_lid(0.2 + gap_m - now);
}

}  // namespace

TEST(Chance, HasItsLimits) {
    EXPECT_EQ(level_by_chance(0, 0), Level::ready);
    EXPECT_EQ(level_by_chance(0.0099, 0.1999), Level::ready);
    EXPECT_EQ(level_by_chance(0, 0.20), Level::care);
    EXPECT_EQ(level_by_chance(0.01, 0.01), Level::care);
    EXPECT_EQ(level_by_chance(0.0499, 0.9), Level::care);
    EXPECT_EQ(level_by_chance(0.05, 0.05), Level::stop);
}

TEST(Chance, AddsUpToOneAndIsTheSameEveryTime) {
    const Assembly load = with_gap(0.030);
    const Analysis a = judge(load, 256), b = judge(load, 256);
    const Chance& chance = a.mounted->chance;
    EXPECT_EQ(chance.mountings, 256);
    EXPECT_NEAR(chance.ready + chance.care + chance.stop, 1, 1e-12);
    EXPECT_EQ(chance.ready, b.mounted->chance.ready);
    ASSERT_EQ(a.mounted->spread.size(), b.mounted->spread.size());
    for (std::size_t f = 0; f < a.mounted->spread.size(); ++f) {
        EXPECT_EQ(a.mounted->spread[f].p5, b.mounted->spread[f].p5);
        EXPECT_LE(a.mounted->spread[f].p5, a.mounted->spread[f].p50);
        EXPECT_LE(a.mounted->spread[f].p50, a.mounted->spread[f].p95);
    }
}

// The corner of the box that reaches furthest swings as the line moves across: its gap is all but normal. A
// gap a little over what is to be kept falls under it in some mountings, and is told so.
TEST(Chance, OfAGapNearItsLimitIsTold) {
    const Analysis a = judge(with_gap(0.026), 1024);
    const Finding* gap = find(a, Code::gap);
    ASSERT_NE(gap, nullptr);
    EXPECT_FALSE(gap->as_written) << "as written it is kept";
    EXPECT_EQ(gap->level, Level::care);
    EXPECT_GT(gap->chance.value(), limits::care_chance);
    EXPECT_EQ(a.verdict, Level::care);
    EXPECT_NE(test::said(*gap, with_gap(0.026)).message.find("mountings: "), std::string::npos);
    EXPECT_EQ(analyse(with_gap(0.026)).verdict, Level::ready);
}

TEST(Chance, ARareStopAsksForCareAndAFrequentOneStops) {
    // As written 25 mm and more: care in many; a stop under 5 mm in few.
    const auto stops = [](double gap_m) { return judge(with_gap(gap_m), 1024); };
    const Analysis rare = stops(0.0175), frequent = stops(0.007);
    EXPECT_GE(frequent.mounted->chance.stop, limits::stop_chance);
    EXPECT_EQ(frequent.verdict, Level::stop);
    EXPECT_EQ(analyse(with_gap(0.007)).verdict, Level::care);
    EXPECT_LT(rare.mounted->chance.stop, limits::stop_chance);
    EXPECT_EQ(rare.verdict, Level::care);
}

TEST(Chance, WhatHandsSeeCountsAsWrittenOnly) {
    Assembly load = under_lid(0.3);
    load.spread.station_m = 0.02;
    load.spread.fork_station_m = 0.02;  // hubs press into the meat in many mountings
    const Analysis a = judge(load, 256);
    EXPECT_EQ(a.mounted->chance.ready, 1);
    EXPECT_EQ(a.verdict, Level::ready);
    EXPECT_TRUE(is_seen_by_hand(Code::hub_in_meat));
    EXPECT_TRUE(is_seen_by_hand(Code::tine_out));
    EXPECT_FALSE(is_seen_by_hand(Code::gap));
}

TEST(Chance, WithoutSpreadIsTheVerdictAsWritten) {
    Assembly load = with_gap(0.020);
    load.spread = Spread::none();
    const Analysis written = analyse(load), judged = judge(load, 64);
    EXPECT_EQ(judged.verdict, written.verdict);
    EXPECT_EQ(judged.mounted->chance.care, 1);
    for (const FigureSpread& figure : judged.mounted->spread) EXPECT_EQ(figure.p5, figure.p95);
    EXPECT_TRUE(judged.mounted->drivers.empty());
}

TEST(Chance, NoneIsAsWrittenAlone) {
    EXPECT_FALSE(judge(with_gap(0.030), 0).mounted.has_value());
}

// Where several conditions, each rare, add up, the load says which.
TEST(Chance, SeveralRareConditionsAddUp) {
    Assembly load = with_gap(0.0298);
    load.cooker.surfaces.push_back(load.cooker.surfaces[0]);
    load.cooker.surfaces[1].name = "wall";
    load.cooker.surfaces[1].shape =
        PlaneShape{{0, 0, -std::get<PlaneShape>(load.cooker.surfaces[0].shape).point.z()}, Vec3::UnitZ()};
    // The wall below as near as the lid above, whatever the rod sags.
    const std::vector<SurfaceGap> gaps = analyse(load).clearance.surfaces;
    std::get<PlaneShape>(load.cooker.surfaces[1].shape).point.z() += gaps[1].gap_m - gaps[0].gap_m;
    load.spread.rod_line_m = 0;
    load.spread.cooker_measures_m = 0.0045;  // each surface on its own
    const Analysis a = judge(load, 2048);
    const double one = find(a, Code::gap)->chance.value_or(0);
    ASSERT_LT(one, limits::care_chance);
    ASSERT_GE(1 - a.mounted->chance.ready, limits::care_chance);
    const Finding* together = find(a, Code::together);
    ASSERT_NE(together, nullptr);
    EXPECT_EQ(together->level, Level::care);
    EXPECT_EQ(together->get<TogetherFacts>().most.size(), 2U);
    EXPECT_EQ(a.verdict, Level::care);
}

// A box on its axis, at its middle: each end's line counts by half, the centre whole, in squares.
TEST(Chance, DriversShareTheSquaresOfWhatEachChanges) {
    Assembly load = under_lid(0.4);
    load.spread.centre_m = 0.002;
    const std::vector<Driver> drivers = judge(load, 1024).mounted->drivers;
    ASSERT_EQ(drivers.size(), 3U);
    const double line = 0.25 * 0.004 * 0.004, centre = 0.002 * 0.002, all = 2 * line + centre;
    double sum = 0;
    for (const Driver& driver : drivers) {
        const bool is_line = driver.input.kind != Input::Kind::centre;
        EXPECT_NEAR(driver.share, (is_line ? line : centre) / all, 0.01);
        sum += driver.share;
    }
    EXPECT_NEAR(sum, 1, 1e-12);
}

// The quick road through many mountings finds what full analyses of each find.
TEST(Chance, AgreesWithFullAnalysesOfEachMounting) {
    for (Assembly load : {with_gap(0.028), with_gap(0.012)}) {
        load.spread = Spread();
        load.spread.rod_line_m = 0.006;
        const std::size_t count = 512;
        const Analysis judged = judge(load, static_cast<int>(count));
        const Mountings mountings(load, count);
        double ready = 0, stop = 0;
        for (std::size_t k = 0; k < count; ++k) {
            Level verdict = Level::ready;
            for (const Finding& f : analyse(mountings.mounting(k)).findings)
                if (!is_seen_by_hand(f.code)) verdict = std::max(verdict, f.level);
            ready += verdict == Level::ready ? 1 : 0;
            stop += verdict == Level::stop ? 1 : 0;
        }
        // Gaps are taken a hundredth of a millimetre smaller: a mounting or two right at a limit may differ.
        EXPECT_NEAR(judged.mounted->chance.ready, ready / count, 0.005);
        EXPECT_NEAR(judged.mounted->chance.stop, stop / count, 0.005);
    }
}

// … and plain independent draws, of another generator, agree within their sampling error.
TEST(Chance, AgreesWithPlainDraws) {
    const Assembly load = with_gap(0.028);
    const Chance chance = judge(load, 1024).mounted->chance;
    std::mt19937 random(7);
    std::normal_distribution<double> normal;
    const int count = 4096;
    int ready = 0;
    for (int k = 0; k < count; ++k) {
        Assembly a = load;
        a.items[0].seat.line.from += 0.004 * Vec2(normal(random), normal(random));
        a.items[0].seat.line.to += 0.004 * Vec2(normal(random), normal(random));
        a.items[0].pose = seat_pose(a.items[0].seat, -0.1, 0.1);
        Level verdict = Level::ready;
        for (const Finding& f : analyse(a).findings)
            if (!is_seen_by_hand(f.code)) verdict = std::max(verdict, f.level);
        ready += verdict == Level::ready ? 1 : 0;
    }
    const double share = static_cast<double>(ready) / count;
    EXPECT_NEAR(chance.ready, share, 3 * std::sqrt(share * (1 - share) / count) + 0.01);
}

}  // namespace evenspit
