// SPDX-License-Identifier: MIT
#include "report/schedule_words.h"

#include <algorithm>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/loads.h"
#include "units/fahrenheit.h"

namespace evenspit {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

constexpr double minute = 60, hour = 3600, day = 24 * hour;

cook::ScheduleNeed turkey() {
    return {.mass_kg = 5.9,
            .bird = true,
            .frozen = true,
            .serve_s = 18.5 * hour,
            .off_s = {2.6 * hour, 3 * hour, 3.3 * hour},
            .retighten = {{101 * minute, 1, 0.006}},
            .baste = {},
            .watched = {{.kind = PlaceKind::breast,
                         .name = "breast",
                         .safe_k = fahrenheit_to_k(165),
                         .pull_k = fahrenheit_to_k(162)},
                        {.kind = PlaceKind::thigh,
                         .name = "thigh",
                         .safe_k = fahrenheit_to_k(165),
                         .pull_k = fahrenheit_to_k(172)}}};
}

std::vector<ToldStep> told(const cook::ScheduleNeed& need, UnitSystem units = UnitSystem::us,
                           const Assembly& load = test::good_load()) {
    return schedule_words(cook::schedule(need), load, units);
}

/// The step of which the words say this.
ToldStep step(const std::vector<ToldStep>& steps, const std::string& words) {
    for (const ToldStep& each : steps) {
        if (each.what.find(words) != std::string::npos) return each;
    }
    return {"no such step", ""};
}

TEST(ScheduleTimes, AreOfTheDayOrOfDaysBefore) {
    EXPECT_EQ(time_of_day_text(18.5 * hour), "18:30");
    EXPECT_EQ(time_of_day_text(0), "00:00");
    EXPECT_EQ(time_of_day_text(-20), "00:00");
    EXPECT_EQ(time_of_day_text(-7.5 * hour), "the day before, 16:30");
    EXPECT_EQ(time_of_day_text(-day), "the day before, 00:00");
    EXPECT_EQ(time_of_day_text(-2 * day - 17.9 * hour), "3 days before, 06:06");
    EXPECT_EQ(time_of_day_text(24.5 * hour), "the day after, 00:30");
}

TEST(ScheduleTimes, CountFromTheStart) {
    EXPECT_EQ(from_on_text(0), "as it goes on");
    EXPECT_EQ(from_on_text(2 * hour + 40 * minute), "after 2 h 40 min");
    EXPECT_EQ(from_on_text(-75 * minute), "1 h 15 min before");
    EXPECT_EQ(from_on_text(-3 * day - 11 * hour), "3 days 11 h before");
    EXPECT_EQ(from_on_text(-day), "1 day before");
}

TEST(ScheduleWordsTest, TellWhatToDoWhen) {
    const auto steps = told(turkey());
    EXPECT_EQ(step(steps, "start the motor").when, "14:40");
    EXPECT_EQ(step(steps, "Light the fire").when, "13:40");
    EXPECT_EQ(step(steps, "If you marinate it: 3 h in the refrigerator, turned every 15 min").when, "10:25");
    EXPECT_EQ(step(steps, "Truss it tight.").when, "13:25");
    // 5.9 kg at 4 lb a day are 3 days, 6 hours and 3 minutes before 10:10, told in full five minutes.
    EXPECT_EQ(step(steps, "24 hours for every 4 to 5 lb (USDA)").when, "3 days before, 04:05");
    EXPECT_THAT(step(steps, "cold water").what,
                AllOf(HasSubstr("changed every 30 min"), HasSubstr("leave out the marinade")));
    EXPECT_EQ(step(steps, "Baste, from now on every 20 min").when, "16:10");
    EXPECT_EQ(step(steps, "Stop the motor, push fork 2 in by 1/4 in and tighten it.").when, "16:20");
    EXPECT_EQ(step(steps, "Take it off").when, "between 17:15 and 18:00");
    EXPECT_EQ(step(steps, "Let it rest 20 min, and measure again: 165 °F or more (USDA).").when, "then");
    EXPECT_EQ(steps.back().when, "18:20");
    EXPECT_EQ(steps.back().what, "Carve and serve.");
}

// The motor is stopped once for all forks that are pushed in at one time.
TEST(ScheduleWordsTest, PushesAtOneTimeAreToldTogether) {
    cook::ScheduleNeed need = turkey();
    need.retighten = {{101 * minute, 0, 0.005}, {101 * minute, 1, 0.003}};
    const auto pushed = [&](const Assembly& load = test::good_load()) {
        return step(told(need, UnitSystem::metric, load), "Stop the motor").what;
    };
    EXPECT_EQ(pushed(), "Stop the motor, push fork 1 in by 5 mm and fork 2 in by 3 mm, and tighten them.");
    need.retighten[1].push_m = 0.005;
    EXPECT_EQ(pushed(), "Stop the motor, push forks 1 and 2 in by 5 mm, and tighten them.");
    Assembly load = test::good_load();
    load.forks[1].kind = ForkKind::basket;
    EXPECT_EQ(pushed(load), "Stop the motor: push fork 1 in by 5 mm and tighten it; close basket 1 tighter.");
    need.retighten[1].at_s = 115 * minute;
    EXPECT_EQ(pushed(load), "Stop the motor, push fork 1 in by 5 mm and tighten it.");
    need.retighten[0].push_m = 0;
    EXPECT_EQ(pushed(load), "Stop the motor and tighten fork 1.");
}

// Cooked food that stands about must be kept hot: 140 °F by USDA's rule.
// Hours and minutes of the day on which it is served.
int minutes_of(const std::string& when) {
    const std::size_t colon = when.find(':');
    return 60 * std::stoi(when.substr(colon - 2, 2)) + std::stoi(when.substr(colon + 1, 2));
}

TEST(ScheduleWordsTest, WhatIsToldFirstComesFirst) {
    for (int push = 60; push < 150; push += 7) {
        for (int off = 151; off < 200; off += 9) {
            cook::ScheduleNeed need = turkey();
            need.frozen = false;
            need.off_s = {(off - 8) * minute, off * minute, (off + 31) * minute};
            need.retighten = {{push * minute, 1, 0.006}, {(push + 11) * minute, 1, 0.004}};
            int before = 0;
            for (const ToldStep& each : told(need)) {
                if (each.when.find(':') == std::string::npos) continue;  // "then", "the day before"
                if (each.when.find("before") != std::string::npos) continue;
                EXPECT_LE(before, minutes_of(each.when)) << each.what << " push " << push << " off " << off;
                before = minutes_of(each.when);
            }
        }
    }
}

TEST(ScheduleWordsTest, WhatMayBeDoneEarlyIsKeptHot) {
    cook::ScheduleNeed need = turkey();
    EXPECT_EQ(step(told(need), "Take it off").what, "Take it off, when the thermometer says so.");
    need.off_s.high = need.off_s.low + 2.1 * hour;
    EXPECT_EQ(step(told(need), "Take it off").what,
              "Take it off, when the thermometer says so. If that is early, keep it at 140 °F or hotter "
              "until dinner "
              "(USDA).");
    need.serve_s.reset();
    EXPECT_EQ(step(told(need), "Take it off").what, "Take it off, when the thermometer says so.");
}

TEST(ScheduleWordsTest, TellWhereToMeasure) {
    const auto steps = told(turkey());
    const ToldStep measure = step(steps, "Stop the motor and measure");
    EXPECT_EQ(measure.when, "17:00");
    EXPECT_EQ(
        measure.what,
        "Stop the motor and measure in the thickest part of the breast and in the inner thigh, clear of "
        "bone and rod, then every 10 min. It comes off at breast 162 °F and thigh 172 °F.");
    cook::ScheduleNeed known = turkey();
    Assembly load = test::good_load();
    known.last = {known.watched[1], load.items[0].pose.inverse() * Vec3(0.312, 0.03, 0.04)};
    EXPECT_THAT(
        step(told(known, UnitSystem::metric, load), "Stop the motor and measure").what,
        HasSubstr(" The thigh takes longest: measure 312 mm along the rod, 50 mm from its middle, at 1 "
                  "o'clock, too."));
    known.last->place.kind = PlaceKind::core;
    EXPECT_THAT(step(told(known, UnitSystem::metric, load), "Stop the motor and measure").what,
                HasSubstr(" It takes longest: measure 312 mm"));
    known.last->at = load.items[0].pose.inverse() * Vec3(0.312, 0.01, 0);
    EXPECT_THAT(step(told(known, UnitSystem::metric, load), "Stop the motor and measure").what,
                HasSubstr("measure 312 mm along the rod, close beside it, too."));
    load.items.push_back(load.items[0]);
    known.last->place.kind = PlaceKind::thigh;
    EXPECT_THAT(step(told(known, UnitSystem::metric, load), "Stop the motor and measure").what,
                HasSubstr(" The thigh of roast (item 1) takes longest: measure 312 mm"));
    cook::ScheduleNeed joint = turkey();
    joint.bird = false;
    joint.stuffed = true;
    joint.watched[1].safe_k = fahrenheit_to_k(145);
    const auto of_joint = told(joint, UnitSystem::metric);
    EXPECT_THAT(step(of_joint, "Stop the motor and measure").what,
                AllOf(HasSubstr("the middle of the thickest part, clear of bone, rod and tines, and in the "
                                "middle of the stuffing"),
                      HasSubstr("breast 72 °C and thigh 78 °C")));
    EXPECT_THAT(step(of_joint, "rest").what, Not(HasSubstr("USDA"))) << "no one rule";
    EXPECT_THAT(step(of_joint, "Feel for ice").what, Not(HasSubstr("giblets")));
    EXPECT_EQ(step(of_joint, "Tie it tight.").when, "13:25");
    EXPECT_THAT(step(of_joint, "(USDA)").what, HasSubstr("1.8 to 2.3 kg"));
}

TEST(ScheduleWordsTest, TellSeveralItemsApart) {
    Assembly load = test::good_load();
    load.items.push_back(load.items[0]);
    load.items[1].name = "duck";
    cook::ScheduleNeed need = turkey();
    need.watched[1].item = 1;
    const auto steps = told(need, UnitSystem::us, load);
    EXPECT_THAT(step(steps, "Stop the motor and measure").what,
                HasSubstr("They come off at roast, breast 162 °F and duck, thigh 172 °F."));
    EXPECT_EQ(step(steps, "Take them off").when, "between 17:15 and 18:00");
}

TEST(ScheduleWordsTest, TellTemperaturesThatAreThoseOfAllItemsOnce) {
    Assembly load = test::good_load();
    load.items.push_back(load.items[0]);
    cook::ScheduleNeed need = turkey();
    const std::vector<RoastPlace> of_one = need.watched;
    for (RoastPlace place : of_one) {
        place.item = 1;
        need.watched.push_back(place);
    }
    EXPECT_THAT(step(told(need, UnitSystem::us, load), "Stop the motor and measure").what,
                HasSubstr("They come off at breast 162 °F and thigh 172 °F."));
}

TEST(ScheduleWordsTest, WithoutATimeToServeCountFromTheStart) {
    cook::ScheduleNeed need = turkey();
    need.serve_s.reset();
    need.retighten[0].push_m = 0;
    const auto steps = told(need);
    EXPECT_EQ(step(steps, "start the motor").when, "as it goes on");
    EXPECT_EQ(step(steps, "Light the fire").when, "1 h before");
    EXPECT_EQ(step(steps, "Take it off").when, "after 2 h 35 min to 3 h 20 min");
    EXPECT_EQ(step(steps, "Stop the motor and tighten fork 2.").when, "after 1 h 40 min");
    EXPECT_EQ(ready_text(cook::schedule(need)),
              "Ready to carve after 2 h 55 min to 3 h 40 min, its rest counted in.");
}

TEST(ReadyText, TellsTheSpread) {
    cook::ScheduleNeed need = turkey();
    EXPECT_EQ(ready_text(cook::schedule(need)),
              "Ready to carve between 17:35 and 18:20, to be served at 18:30.");
    need.off_s = {3 * hour, 3 * hour, 3 * hour};
    EXPECT_EQ(ready_text(cook::schedule(need)), "Ready to carve at 18:20, to be served at 18:30.");
}

}  // namespace
}  // namespace evenspit
