// SPDX-License-Identifier: MIT
#include "trim/trim.h"

#include <cmath>
#include <numbers>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/loads.h"
#include "analysis/roll_stand.h"

namespace evenspit {
namespace {

using std::numbers::pi;
using test::degree;
using testing::IsEmpty;
using testing::SizeIs;

/// The box with a rod that passes 10 mm below its middle: U = 0.02 kg m at clock 90° as written.
Assembly low_rod() {
    Assembly a = test::good_load();
    a.items = {test::item("roast", test::flesh(test::box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), 0.34,
                          {0, 0.01})};
    a.motor.friction_torque_n_m.reset();
    a.motor.support_friction = 0.1;
    a.stock = {{.mass_kg = 0.3, .radius_min_m = 0.03, .radius_max_m = 0.12, .diameter_m = 0.04}};
    return a;
}

Assembly rolled(Assembly a, RollTest test) {
    a.roll_tests = {std::move(test)};
    return a;
}

TEST(Trim, TakesOutWhatTheTestFoundNotWhatIsWritten) {
    // Found at 60°, 0.025 kg m.
    const Assembly load =
        rolled(low_rod(), {.down_rad = 62 * degree, .hung = HungWeight{0.25, 0.1, 240 * degree}});
    const Trim t = trim(load, 256);
    ASSERT_THAT(t.added, SizeIs(1));
    EXPECT_TRUE(t.needed && t.from_stock);
    EXPECT_EQ(t.added[0].mass_kg, 0.3);
    const Vec2 found = t.found.at(0).unbalance_kg_m;
    EXPECT_NEAR((found - 0.025 * Vec2(std::cos(60 * degree), std::sin(60 * degree))).norm(), 0, 0.002);
    const Vec2 taken =
        0.3 * t.added[0].radius_m * Vec2(std::cos(t.added[0].clock_rad), std::sin(t.added[0].clock_rad));
    EXPECT_LT((found + taken).norm(), 4e-4);
    EXPECT_LT(t.after.uncertainty->gravity_torque_p95_n_m,
              0.3 * t.before.uncertainty->gravity_torque_p95_n_m);
    EXPECT_LT(t.after.balance.gravity_torque_peak_n_m, 0.1 * t.before.balance.gravity_torque_peak_n_m);
    EXPECT_EQ(t.trimmed.counterweights.size(), 1U);
    EXPECT_TRUE(t.trimmed.roll_tests[0].counts) << "the weight was not on, and it still counts";
    EXPECT_FALSE(t.to_hang.has_value());
}

TEST(Trim, ASideAloneAsksForAWeight) {
    const Trim t = trim(rolled(low_rod(), {.down_rad = 90 * degree}), 64);
    ASSERT_TRUE(t.to_hang.has_value());
    EXPECT_EQ(t.to_hang->mass_kg, 0.3);
    EXPECT_NEAR(t.to_hang->clock_rad, 270 * degree, 15 * degree);
    EXPECT_NEAR(t.to_hang->radius_m * 0.3, 0.02, 0.006);
}

TEST(Trim, LeavesAloneWhatFrictionHolds) {
    Assembly load = low_rod();
    load.items[0].pose = Pose(Eigen::Translation3d(0.34, 0, 0));
    const Trim t = trim(rolled(load, {}), 64);
    EXPECT_FALSE(t.needed);
    EXPECT_THAT(t.added, IsEmpty());
    EXPECT_EQ(t.after.verdict, t.before.verdict);
}

TEST(Trim, MakesAWeightUpWhereNoneLiesReady) {
    Assembly load = low_rod();
    load.stock.clear();
    const Trim t =
        trim(rolled(load, {.down_rad = 90 * degree, .hung = HungWeight{0.2, 0.1, 270 * degree}}), 64);
    EXPECT_FALSE(t.from_stock);
    EXPECT_THAT(t.added, SizeIs(1));
}

TEST(Trim, AWeightOnTheRodIsNotInStock) {
    Assembly load = low_rod();
    load.counterweights = {
        {.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.05, .clock_rad = 270 * degree, .diameter_m = 0.04}};
    EXPECT_THAT(left_in_stock(load), IsEmpty());
    load.stock.push_back(load.stock[0]);
    EXPECT_THAT(left_in_stock(load), SizeIs(1)) << "there are two of them";
    const Trim t = trim(rolled(load, {.down_rad = 90 * degree, .counterweights = {0}}), 64);
    ASSERT_THAT(t.added, SizeIs(1));
    EXPECT_GT(std::abs(t.added[0].at_m - 0.1), 0.04) << "beside the one that is there";
}

TEST(Trim, TellsTheShiftsGreatestFirst) {
    const Trim t =
        trim(rolled(low_rod(), {.down_rad = 0.0, .hung = HungWeight{0.25, 0.1, 180 * degree}}), 16);
    ASSERT_FALSE(t.shifts.empty());
    for (std::size_t i = 1; i < t.shifts.size(); ++i)
        EXPECT_GE(t.shifts[i - 1].deviations, t.shifts[i].deviations);
    const Input::Kind first = t.shifts[0].input.kind;
    EXPECT_TRUE(first == Input::Kind::line_from || first == Input::Kind::line_to ||
                first == Input::Kind::centre);
}

TEST(Trim, StopsWhenAsked) {
    std::stop_source stop;
    stop.request_stop();
    EXPECT_ANY_THROW(trim(rolled(low_rod(), {}), 64, stop.get_token()));
}

}  // namespace
}  // namespace evenspit
