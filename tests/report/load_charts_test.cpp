// SPDX-License-Identifier: MIT
#include "report/load_charts.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <numbers>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "plan/loads.h"

namespace evenspit {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

const Assembly& ball() {
    static const Assembly load = [] {
        Assembly made = test::load_of(test::item_of(
            test::flesh_body(test::ellipsoid_mesh(0.12, 0.09, 0.09, {0, 0.017, -0.024}), 4, "ball"),
            {.at_m = 0.4}));
        made.cooker.surfaces.resize(3);
        made.cooker.surfaces[0].name = "lid";
        made.cooker.surfaces[1] = {
            .name = "coals", .shape = {}, .fire = true, .temperature_k = {}, .keep_m = 0.05};
        made.cooker.surfaces[2] = {
            .name = "more coals", .shape = {}, .fire = true, .temperature_k = {}, .keep_m = 0.05};
        return made;
    }();
    return load;
}

const Analysis& answers() {
    static const Analysis now = [] {
        Assembly bare = ball();
        bare.cooker.surfaces.clear();
        return analyse(bare);
    }();
    return now;
}

ChartedLoad charted(UnitSystem system = UnitSystem::metric, const Analysis* earlier = nullptr) {
    return {ball(), answers(), earlier, Units(system)};
}

const std::vector<std::vector<Vec2>>& walls() {
    static const std::vector<std::vector<Vec2>> around = {{{0.1, 0.25}, {0.4, 0.22}, {0.7, 0.25}},
                                                          {{0.3, 0.2}, {0.4, 0.2}, {0.5, 0.2}},
                                                          {{0.6, 0.21}, {0.7, 0.21}}};
    return around;
}

TEST(TorqueChart, ShowsTheCurveAsItWasAnalysed) {
    const Chart chart = torque_chart(charted());
    const Series* now = chart.find("now");
    ASSERT_NE(now, nullptr);
    const auto& curve = answers().balance.curve;
    ASSERT_EQ(now->points.size(), curve.size() + 1);
    for (std::size_t i = 0; i < curve.size(); ++i) {
        EXPECT_EQ(now->points[i], Vec2(curve[i][0], curve[i][1]));
        EXPECT_GT(curve[i][1], chart.y.from);
        EXPECT_LT(curve[i][1], chart.y.to);
    }
    EXPECT_EQ(now->points.back(), Vec2(360, curve[0][1]));
    EXPECT_EQ(chart.find("earlier"), nullptr);
    EXPECT_TRUE(chart.marks.empty());
}

TEST(TorqueChart, DrawsALimitThatIsNearAndNamesOneThatIsFar) {
    Assembly load = ball();
    const double most = answers().balance.motor_torque_peak_n_m;
    load.motor.rated_torque_n_m = 1.5 * most;
    load.motor.stall_torque_n_m = 1.8 * most;
    const Chart near = torque_chart({load, answers(), nullptr, Units(UnitSystem::metric)});
    ASSERT_EQ(near.limits.size(), 2U);
    EXPECT_EQ(near.limits[0].at, 1.5 * most);
    EXPECT_THAT(near.limits[0].label, StartsWith("rated "));
    EXPECT_THAT(near.limits[1].label, StartsWith("stalls at "));
    EXPECT_GT(near.y.to, 1.8 * most);
    EXPECT_EQ(near.remark, "N m");
    load.motor.rated_torque_n_m = 50;
    load.motor.stall_torque_n_m = 90;
    const Chart far = torque_chart({load, answers(), nullptr, Units(UnitSystem::metric)});
    EXPECT_TRUE(far.limits.empty());
    EXPECT_EQ(far.remark, "N m, rated 50 N m ↑");
    EXPECT_LT(far.y.to, 2 * most);
}

TEST(TorqueChart, MarksWhereTheLoadIs) {
    const Chart chart = torque_chart(charted(), TurnNow{std::numbers::pi / 2, 0.25});
    ASSERT_FALSE(chart.marks.empty());
    EXPECT_EQ(chart.marks[0].at, Vec2(90, 0.25));
    EXPECT_EQ(chart.marks[0].text, "now " + Units(UnitSystem::metric).torque(0.25));
}

TEST(TorqueChart, ShadesWhereTheLoadDrives) {
    ASSERT_TRUE(answers().turning.overruns);
    const Chart chart = torque_chart(charted(), TurnNow{0.1, 0.25});
    ASSERT_EQ(chart.fills.size(), 1U);
    for (const Vec2& corner : chart.fills[0].corners) EXPECT_LE(corner.y(), 0);
    ASSERT_EQ(chart.marks.size(), 2U);
    EXPECT_THAT(chart.marks[1].text, HasSubstr("drives the gears"));
    // While it does, the mark itself is there.
    EXPECT_EQ(torque_chart(charted(), TurnNow{0.1, -0.25}).marks.size(), 1U);
}

TEST(TorqueChart, SpeaksTheReadersUnits) {
    const Chart chart = torque_chart(charted(UnitSystem::us), TurnNow{0, 0.1129848290276167});
    EXPECT_THAT(chart.remark, StartsWith("lbf in"));
    EXPECT_EQ(chart.marks[0].text, "now 1 lbf in");
    for (const Tick& tick : chart.y.ticks)
        EXPECT_NEAR(tick.at, 0.1129848290276167 * std::stod(tick.text), 1e-9);
}

TEST(TorqueChart, ShowsAnEarlierStateBesideIt) {
    Analysis earlier = answers();
    for (auto& [deg, torque] : earlier.balance.curve) torque *= 3;
    const Chart chart = torque_chart(charted(UnitSystem::metric, &earlier));
    const Series* before = chart.find("earlier");
    ASSERT_NE(before, nullptr);
    EXPECT_TRUE(before->dashed);
    EXPECT_EQ(before->points[7], Vec2(7, earlier.balance.curve[7][1]));
    EXPECT_GT(chart.y.to, earlier.balance.curve[0][1]);
}

TEST(TorqueChart, TakesAnAnalysisWithoutACurve) {
    const Analysis empty;
    const Chart chart = torque_chart({ball(), empty, nullptr, Units(UnitSystem::metric)}, TurnNow{});
    EXPECT_TRUE(chart.series.empty());
    EXPECT_FALSE(lay_out(chart, {0, 0, 300, 150}, svg_letters).empty());
    EXPECT_TRUE(sag_chart({ball(), empty, nullptr, Units(UnitSystem::metric)}).find("now")->points.empty());
    EXPECT_TRUE(radius_chart({ball(), empty, nullptr, Units(UnitSystem::metric)}).fills.empty());
}

TEST(RadiusChart, FollowsTheOutlineAndLeavesGapsWhereNothingIs) {
    const Chart chart = radius_chart(charted(), walls());
    const Outline& outline = answers().clearance.outline;
    ASSERT_EQ(chart.fills.size(), outline.pieces.size());
    std::size_t points = 0, gaps = 0;
    for (const Vec2& p : chart.find("now")->points) {
        if (!p.allFinite()) {
            ++gaps;
            continue;
        }
        ++points;
        EXPECT_LE(p.y(), outline.radius_at(p.x()) + 1e-9);
        EXPECT_LT(p.y(), chart.y.to);
    }
    EXPECT_EQ(points, 2 * outline.pieces.size());
    std::size_t breaks = 0;
    for (std::size_t i = 1; i < outline.pieces.size(); ++i)
        breaks += outline.pieces[i - 1].x1 < outline.pieces[i].x0 ? 1 : 0;
    EXPECT_EQ(gaps, breaks);
}

TEST(RadiusChart, ShowsEachWallAndNamesFiresAtOneHeightOnce) {
    const Chart chart = radius_chart(charted(), walls());
    ASSERT_NE(chart.find("lid"), nullptr);
    EXPECT_EQ(chart.find("lid")->points, walls()[0]);
    EXPECT_EQ(chart.find("coals")->role, Role::stop);
    EXPECT_EQ(chart.find("lid")->role, Role::plain);
    ASSERT_EQ(chart.marks.size(), 2U);
    EXPECT_EQ(chart.marks[0].text, "coals (fire)");
    EXPECT_EQ(chart.marks[1].text, "lid");
    EXPECT_EQ(chart.marks[1].at, walls()[0][1]) << "where it is beside the load";
    EXPECT_EQ(chart.marks[0].at, walls()[1][1]);
    // The lid stands beside the load at 0.4 m, so the chart reaches up to it.
    EXPECT_GT(chart.y.to, 0.22);
}

TEST(RadiusChart, ShowsSagAndInRedWhatItStrikes) {
    Analysis now = answers();
    // The coals are 200 mm away, and the ball clears them until the rod is down by enough.
    const double radius = now.clearance.outline.radius_at(0.4);
    ASSERT_LT(radius, 0.2);
    now.rod.sag = {{0, 0}, {0.4, 0.2 - radius + 0.011}, {0.8, 0}};
    now.rod.sag_max_m = now.rod.sag[1][1];
    now.clearance.surfaces.resize(3);
    now.clearance.surfaces[0].gap_m = now.clearance.surfaces[2].gap_m = 0.1;
    now.clearance.surfaces[1].gap_m = -0.011;
    now.clearance.surfaces[1].at_m = 0.4;
    now.clearance.surfaces[1].on_surface = {0.4, 0, -0.2};
    std::vector<std::vector<Vec2>> fine = walls();
    fine[1].clear();
    for (int i = 0; i <= 20; ++i) fine[1].emplace_back(0.3 + i * 0.01, 0.2);
    const Chart chart = radius_chart({ball(), now, nullptr, Units(UnitSystem::metric)}, fine);
    const Series* sagged = chart.find("with sag");
    ASSERT_NE(sagged, nullptr);
    EXPECT_TRUE(sagged->dashed);
    double deepest = 0;
    for (const Fill& fill : chart.fills) {
        if (fill.role != Role::stop) continue;
        for (const Vec2& corner : fill.corners) deepest = std::max(deepest, corner.y());
    }
    EXPECT_NEAR(deepest, 0.211, 1e-9) << "as far as the finding says";
    EXPECT_GT(chart.y.to, 0.211);
    EXPECT_EQ(radius_chart(charted(), walls()).find("with sag"), nullptr) << "too little to be seen";
}

TEST(SagChart, GrowsDownwardAndTellsTheMost) {
    const Chart chart = sag_chart(charted());
    const RodResult& rod = answers().rod;
    EXPECT_TRUE(chart.y.downward);
    ASSERT_EQ(chart.find("now")->points.size(), rod.sag.size());
    for (std::size_t i = 0; i < rod.sag.size(); ++i)
        EXPECT_EQ(chart.find("now")->points[i], Vec2(rod.sag[i][0], rod.sag[i][1]));
    EXPECT_EQ(chart.marks[0].at, Vec2(rod.sag_at_m, rod.sag_max_m));
    EXPECT_EQ(chart.marks[0].text, Units(UnitSystem::metric).slack(rod.sag_max_m));
    EXPECT_EQ(chart.marks[1].at, Vec2(ball().rod.supports_m[0], 0));
    EXPECT_EQ(chart.marks[2].at, Vec2(ball().rod.supports_m[1], 0));
}

TEST(SagChart, ShowsTheLimitOnceItIsNear) {
    Analysis now = answers();
    now.rod.sag = {{0, 0}, {0.4, 0.002}, {0.8, 0}};
    EXPECT_TRUE(sag_chart({ball(), now, nullptr, Units(UnitSystem::metric)}).limits.empty());
    now.rod.sag[1][1] = 0.004;
    const Chart near = sag_chart({ball(), now, nullptr, Units(UnitSystem::metric)});
    ASSERT_EQ(near.limits.size(), 1U);
    EXPECT_EQ(near.limits[0].label, "care 5 mm");
}

TEST(GripChart, TellsWhatEachTineIsIn) {
    Analysis now = answers();
    ASSERT_EQ(now.grip.forks.size(), 2U);
    TineGrip& bone = now.grip.forks[0].tines[0];
    bone = {.item = 0, .embedded_m = 0.08, .in_bone_m = 0.02, .in_cavity_m = 0.01, .cover_min_m = 0.03};
    now.grip.forks[0].tines[1] = {.item = 0, .embedded_m = 0.07, .cover_min_m = 0.002};
    now.grip.forks[1].tines[0] = {.item = 0, .embedded_m = 0.06, .cover_min_m = 0.03};
    now.grip.forks[1].torque_capacity_n_m = 2;
    const BarChart chart = grip_chart({ball(), now, nullptr, Units(UnitSystem::metric)});
    ASSERT_EQ(chart.groups.size(), 2U);
    const Bar& first = chart.groups[0].bars[0];
    EXPECT_EQ(first.word, "in bone");
    EXPECT_EQ(first.role, Role::care);
    EXPECT_EQ(first.length, 0.09);
    EXPECT_NEAR(first.pieces[0].length, 0.05, 1e-12);
    EXPECT_EQ(first.pieces[1].length, 0.02);
    EXPECT_EQ(first.pieces[2].length, 0.01);
    EXPECT_EQ(chart.groups[0].bars[1].word, "cover 2 mm");
    EXPECT_EQ(chart.groups[1].bars[0].word, "60 mm");
    EXPECT_EQ(chart.groups[1].bars[0].role, Role::plain);
    EXPECT_EQ(chart.groups[1].note, "2 N m");
    EXPECT_TRUE(grip_chart({ball(), {}, nullptr, Units(UnitSystem::metric)}).groups.empty());
}

TEST(LoadCharts, KeepTheirWordsApart) {
    for (const UnitSystem system : {UnitSystem::metric, UnitSystem::us}) {
        for (const double deg : {0.0, 40.0, 90.0, 175.0, 268.0, 359.0}) {
            const double torque = answers().balance.curve[static_cast<std::size_t>(deg)][1];
            for (const Chart& chart :
                 {torque_chart(charted(system), TurnNow{deg * std::numbers::pi / 180, torque}),
                  radius_chart(charted(system), walls()), sag_chart(charted(system))}) {
                for (const Frame& frame : {Frame{0, 0, 370, 170}, Frame{0, 0, 200, 120}}) {
                    std::vector<PictureText> words;
                    for (const Shape& shape : lay_out(chart, frame, svg_letters)) {
                        if (const auto* text = std::get_if<PictureText>(&shape)) words.push_back(*text);
                    }
                    ASSERT_GT(words.size(), 4U);
                    for (std::size_t i = 0; i < words.size(); ++i) {
                        for (std::size_t j = i + 1; j < words.size(); ++j)
                            EXPECT_FALSE(words[i].frame.overlaps(words[j].frame))
                                << words[i].text << " / " << words[j].text;
                    }
                }
            }
        }
    }
}

/// How many of an axis's ticks a picture of the chart names.
struct Named {
    int level = 0, upright = 0;
};

Named named_ticks(const Chart& chart, const Frame& frame, double scale) {
    const MeasureLetters letters = [scale](std::string_view text, Lettering lettering) {
        return Vec2(scale * svg_letters(text, lettering));
    };
    const Frame plot = plot_of(frame, scale);
    const auto is_tick = [](const Axis& axis, const std::string& text) {
        return std::any_of(axis.ticks.begin(), axis.ticks.end(),
                           [&text](const Tick& tick) { return tick.text == text; });
    };
    Named named;
    for (const Shape& shape : lay_out(chart, frame, letters, scale)) {
        const auto* const word = std::get_if<PictureText>(&shape);
        if (word == nullptr) continue;
        named.level += word->frame.y >= plot.bottom() && is_tick(chart.x, word->text) ? 1 : 0;
        named.upright += word->frame.right() <= plot.x && is_tick(chart.y, word->text) ? 1 : 0;
    }
    return named;
}

TEST(LoadCharts, TellTheScaleOfBothAxesAtEverySize) {
    // Curves of all heights, about 0 or far from it, near the motor's limits or not.
    for (int n = 0; n < 24; ++n) {
        Analysis now = answers();
        const double lift = std::pow(1.37, n % 8), mean = 0.35 * (n % 3) * lift;
        for (auto& [deg, torque] : now.balance.curve) torque = mean + lift * std::sin(deg * 0.01745);
        for (auto& [x, down] : now.rod.sag) down *= lift;
        Assembly load = ball();
        load.motor.rated_torque_n_m = 0.8 * lift * (1 + n % 4);
        for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
            const ChartedLoad charted{load, now, nullptr, Units(units)};
            for (const Chart& chart :
                 {torque_chart(charted), radius_chart(charted, walls()), sag_chart(charted)}) {
                for (const auto& [frame, scale] :
                     std::initializer_list<std::pair<Frame, double>>{{{0, 0, 190, 110}, 1},
                                                                     {{0, 0, 480, 150}, 1},
                                                                     {{0, 0, 620, 240}, 2},
                                                                     {{0, 0, 1900, 700}, 2}}) {
                    const Named named = named_ticks(chart, frame, scale);
                    EXPECT_GE(named.level, 2) << chart.title << ", " << frame.width << " wide, load " << n;
                    EXPECT_GE(named.upright, 2) << chart.title << ", " << frame.height << " high, load " << n;
                }
            }
        }
    }
}

}  // namespace
}  // namespace evenspit
