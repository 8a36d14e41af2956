// SPDX-License-Identifier: MIT
#include "cook/schedule.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include <gtest/gtest.h>

#include "analysis/loads.h"

namespace evenspit::cook {
namespace {

constexpr double lb = 0.45359237, minute = 60, hour = 3600, day = 24 * hour;

const Step& step(const Schedule& schedule, StepKind kind) {
    const auto found = std::find_if(schedule.steps.begin(), schedule.steps.end(),
                                    [kind](const Step& s) { return s.kind == kind; });
    if (found == schedule.steps.end()) throw std::logic_error("no such step");
    return *found;
}

bool has(const Schedule& schedule, StepKind kind) {
    return std::any_of(schedule.steps.begin(), schedule.steps.end(),
                       [kind](const Step& s) { return s.kind == kind; });
}

ScheduleNeed turkey() {
    return {.mass_kg = 13 * lb,
            .bird = true,
            .serve_s = 18.5 * hour,
            .off_s = {2.6 * hour, 3 * hour, 3.3 * hour},
            .lit_before_s = 50 * minute,
            .retighten = {{100 * minute, 1, 0.006}},
            .baste = {}};
}

// USDA FSIS, "The Big Thaw": 4 to 12 lb 1 to 3 days, 12 to 16 lb 3 to 4 days, 16 to 20 lb 4 to 5 days, 20 to
// 24 lb 5 to 6 days in the refrigerator; 2 to 6, 6 to 8, 8 to 10 and 10 to 12 hours in cold water.
TEST(Thawing, TakesAsLongAsUsdaTellsOfTurkeys) {
    for (const auto& [pounds, days, hours] : {std::array{4.0, 1.0, 2.0},
                                              {12.0, 3.0, 6.0},
                                              {16.0, 4.0, 8.0},
                                              {20.0, 5.0, 10.0},
                                              {24.0, 6.0, 12.0}}) {
        EXPECT_NEAR(thaw_in_refrigerator_s(pounds * lb), days * day, 1);
        EXPECT_NEAR(thaw_in_cold_water_s(pounds * lb), hours * hour, 1);
    }
}

TEST(Schedule, CountsBackFromServingWithTheLongestCook) {
    const ScheduleNeed need = turkey();
    const Schedule s = schedule(need);
    EXPECT_TRUE(s.by_clock);
    // 10 minutes to carve and 20 to rest before 18:30, 3 h 18 min before that: 14:42.
    EXPECT_DOUBLE_EQ(s.on_s, 14 * hour + 40 * minute) << "at the full five minutes before";
    EXPECT_DOUBLE_EQ(step(s, StepKind::load_on).from_s, s.on_s);
    const Step& off = step(s, StepKind::take_off);
    EXPECT_DOUBLE_EQ(off.from_s, s.on_s + 2.6 * hour);
    EXPECT_DOUBLE_EQ(off.to_s, s.on_s + 3.3 * hour);
    EXPECT_DOUBLE_EQ(s.ready_s.low, off.from_s + 20 * minute);
    EXPECT_DOUBLE_EQ(s.ready_s.high, off.to_s + 20 * minute);
    EXPECT_LE(s.ready_s.high, step(s, StepKind::carve).from_s) << "never late";
    EXPECT_DOUBLE_EQ(step(s, StepKind::carve).to_s, 18.5 * hour);
}

TEST(Schedule, IsInOrderOfTime) {
    ScheduleNeed need = turkey();
    need.frozen = true;
    for (const double lit_before : {0.0, 1.2 * hour, 3.5 * hour}) {
        need.lit_before_s = lit_before;
        const Schedule s = schedule(need);
        EXPECT_TRUE(std::is_sorted(s.steps.begin(), s.steps.end(),
                                   [](const Step& a, const Step& b) { return a.from_s < b.from_s; }));
        for (const Step& each : s.steps) EXPECT_LE(each.from_s, each.to_s);
        EXPECT_EQ(s.steps.front().kind, StepKind::thaw_in_refrigerator);
        EXPECT_EQ(s.steps.back().kind, StepKind::carve);
    }
}

TEST(Schedule, LightsTheFireAnHourEarlyOrAsEarlyAsItTakes) {
    ScheduleNeed need = turkey();
    Schedule s = schedule(need);
    EXPECT_DOUBLE_EQ(step(s, StepKind::light_fire).from_s, s.on_s - hour);
    need.lit_before_s = 1.4 * hour;
    s = schedule(need);
    EXPECT_DOUBLE_EQ(step(s, StepKind::light_fire).from_s, s.on_s - 1.4 * hour);
    need.fire = false;
    need.lit_before_s = 0;
    s = schedule(need);
    EXPECT_FALSE(has(s, StepKind::light_fire));
    EXPECT_LT(step(s, StepKind::preheat).from_s, s.on_s);
}

TEST(Schedule, MarinatesThreeHoursBeforeTrussing) {
    const Schedule s = schedule(turkey());
    const Step& marinade = step(s, StepKind::marinate);
    EXPECT_DOUBLE_EQ(marinade.to_s - marinade.from_s, 3 * hour);
    EXPECT_DOUBLE_EQ(marinade.every_s, 15 * minute);
    EXPECT_DOUBLE_EQ(step(s, StepKind::prepare).to_s, marinade.from_s);
    EXPECT_DOUBLE_EQ(step(s, StepKind::truss).from_s, marinade.to_s);
    EXPECT_DOUBLE_EQ(step(s, StepKind::spit).from_s, step(s, StepKind::truss).to_s);
    EXPECT_LT(step(s, StepKind::spit).to_s, s.on_s);
    // USDA: raw food is out of the refrigerator for two hours at most.
    EXPECT_LE(s.on_s - marinade.to_s, 2 * hour);
    EXPECT_FALSE(has(s, StepKind::thaw_in_refrigerator));
    EXPECT_FALSE(has(s, StepKind::thaw_in_cold_water));
}

TEST(Schedule, ThawsInTheRefrigeratorDaysBefore) {
    ScheduleNeed need = turkey();
    need.frozen = true;
    const Schedule s = schedule(need);
    const Step& thaw = step(s, StepKind::thaw_in_refrigerator);
    EXPECT_NEAR(thaw.to_s - thaw.from_s, 3.25 * day, 1) << "13 lb at 4 lb a day";
    EXPECT_DOUBLE_EQ(thaw.to_s, step(s, StepKind::prepare).from_s);
    EXPECT_LT(thaw.from_s, -2 * day);
}

// USDA: what was thawed in cold water is cooked at once.
TEST(Schedule, LeavesNoRoomForAMarinadeAfterColdWater) {
    ScheduleNeed need = turkey();
    need.frozen = true;
    const Schedule s = schedule(need);
    const Step& water = step(s, StepKind::thaw_in_cold_water);
    EXPECT_NEAR(water.to_s - water.from_s, 6.5 * hour, 1);
    EXPECT_DOUBLE_EQ(water.every_s, 30 * minute);
    EXPECT_LE(step(s, StepKind::truss).from_s - water.to_s, 15 * minute);
    EXPECT_GE(step(s, StepKind::truss).from_s, water.to_s);
}

TEST(Schedule, BastesFromHalfWayEveryTwentyMinutesUnlessToldOtherwise) {
    ScheduleNeed need = turkey();
    Schedule s = schedule(need);
    EXPECT_DOUBLE_EQ(step(s, StepKind::baste).from_s, s.on_s + 1.5 * hour);
    EXPECT_DOUBLE_EQ(step(s, StepKind::baste).every_s, 20 * minute);
    need.baste = CookBasting{.every_s = 30 * minute, .from_s = hour};
    s = schedule(need);
    EXPECT_DOUBLE_EQ(step(s, StepKind::baste).from_s, s.on_s + hour);
    EXPECT_DOUBLE_EQ(step(s, StepKind::baste).every_s, 30 * minute);
    need.baste->from_s = 5 * hour;
    EXPECT_FALSE(has(schedule(need), StepKind::baste)) << "off by then";
}

TEST(Schedule, ChecksMotorForksAndTemperature) {
    ScheduleNeed need = turkey();
    need.retighten.push_back({4 * hour, 0, 0.01});  // after it is off
    const Schedule s = schedule(need);
    EXPECT_DOUBLE_EQ(step(s, StepKind::check_motor).from_s, s.on_s + 5 * minute);
    const Step& push = step(s, StepKind::retighten);
    EXPECT_DOUBLE_EQ(push.from_s, s.on_s + 100 * minute);
    ASSERT_EQ(push.pushes.size(), 1U);
    EXPECT_EQ(push.pushes[0].fork, 1U);
    EXPECT_DOUBLE_EQ(push.pushes[0].push_m, 0.006);
    EXPECT_EQ(std::count_if(s.steps.begin(), s.steps.end(),
                            [](const Step& each) { return each.kind == StepKind::retighten; }),
              1);
    EXPECT_DOUBLE_EQ(step(s, StepKind::start_checking).from_s, s.on_s + 2.6 * hour - 15 * minute);
}

TEST(Schedule, CountsFromTheStartWithoutATimeToServe) {
    ScheduleNeed need = turkey();
    need.serve_s.reset();
    const Schedule s = schedule(need);
    EXPECT_FALSE(s.by_clock);
    EXPECT_DOUBLE_EQ(s.on_s, 0);
    EXPECT_LT(s.steps.front().from_s, 0);
    EXPECT_DOUBLE_EQ(step(s, StepKind::rest).from_s, 3.3 * hour);
    EXPECT_DOUBLE_EQ(step(s, StepKind::carve).from_s, 3.3 * hour + 20 * minute);
}

TEST(Schedule, OfAShortCookHasAPlaceForEverything) {
    ScheduleNeed need = turkey();
    need.off_s = {4 * minute, 5 * minute, 6 * minute};
    const Schedule s = schedule(need);
    EXPECT_FALSE(has(s, StepKind::check_motor));
    EXPECT_GT(step(s, StepKind::start_checking).from_s, s.on_s);
    EXPECT_LT(step(s, StepKind::start_checking).from_s, step(s, StepKind::take_off).from_s);
}

TEST(Schedule, RefusesNothingToRoast) {
    ScheduleNeed need = turkey();
    need.off_s = {2 * hour, 1 * hour, 3 * hour};
    EXPECT_THROW(schedule(need), std::invalid_argument);
    need = turkey();
    need.off_s = {};
    EXPECT_THROW(schedule(need), std::invalid_argument);
    need = turkey();
    need.mass_kg = 0;
    EXPECT_THROW(schedule(need), std::invalid_argument);
}

TEST(ScheduleNeed, ComesFromALoadAndItsCook) {
    Assembly load = test::good_load();
    CookCourse course;
    EXPECT_FALSE(schedule_need(load, course)) << "not done";
    course.off_s = Range{hour, 1.2 * hour, 1.5 * hour};
    EXPECT_FALSE(schedule_need(load, course)) << "no cook told";
    load.cook = Cook{};
    load.cook->serve_s = 18 * hour;
    load.cook->fire.baste = CookBasting{.every_s = 600, .from_s = {}};
    load.items.push_back(
        test::item("big", test::flesh(test::box_mesh({-0.1, -0.1, -0.1}, {0.1, 0.1, 0.1})), 0.5));
    load.items[1].bird = true;
    course.roast.places = {{.item = 0, .kind = PlaceKind::core, .name = "core", .pull_k = 340},
                           {.item = 1, .kind = PlaceKind::wing, .name = "wing"}};
    course.roast.place_courses = {{.pull_s = 4000, .coldest_at = Vec3(0.02, 0, 0.01)}, {}};
    course.roast.fuel = FuelPlan{.lit_before_s = 4000};
    course.roast.moments.resize(1);
    course.roast.moments[0].items.resize(2);
    course.retighten = {{1000, 1, 0.002}};
    const auto need = schedule_need(load, course);
    ASSERT_TRUE(need);
    EXPECT_NEAR(need->mass_kg, 8, 1e-9);
    EXPECT_TRUE(need->bird);
    EXPECT_FALSE(need->frozen);
    EXPECT_FALSE(need->stuffed);
    EXPECT_TRUE(need->fire);
    EXPECT_EQ(need->lit_before_s, 4000);
    EXPECT_EQ(need->serve_s, 18 * hour);
    EXPECT_EQ(need->off_s.high, 1.5 * hour);
    EXPECT_EQ(need->retighten.size(), 1U);
    ASSERT_TRUE(need->baste);
    ASSERT_EQ(need->watched.size(), 1U);
    EXPECT_EQ(need->watched[0].name, "core");
    ASSERT_TRUE(need->last);
    EXPECT_EQ(need->last->place.name, "core");
    EXPECT_EQ(need->last->at, Vec3(0.02, 0, 0.01));

    course.roast.moments[0].items[1].ice_share = 0.2;
    load.cook->fire.fuel = FuelKind::gas;
    EXPECT_TRUE(schedule_need(load, course)->frozen);
    EXPECT_FALSE(schedule_need(load, course)->fire);
    course.roast.fuel.reset();
    EXPECT_FALSE(schedule_need(load, course)->fire) << "an oven";
}

}  // namespace
}  // namespace evenspit::cook
