// SPDX-License-Identifier: MIT
#include "report/mount_words.h"

#include <numbers>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/loads.h"
#include "report/caution_words.h"

namespace evenspit {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

TEST(MountWords, WhatSitsNearestTheSquareEndGoesOnFirst) {
    const Assembly load = test::good_load();
    const std::vector<std::string> steps = mounting_steps(load, UnitSystem::metric);
    ASSERT_EQ(steps.size(), load.forks.size() + 2 * load.items.size());
    EXPECT_THAT(steps.front(), HasSubstr("Fork 1: hub at "));
    EXPECT_THAT(steps[1], HasSubstr("Push the rod through"));
    EXPECT_THAT(steps[2], HasSubstr("Slide it until it reaches from "));
    EXPECT_THAT(steps.back(), HasSubstr("Fork 2: hub at "));
    Assembly swapped = load;
    std::swap(swapped.forks[0], swapped.forks[1]);
    EXPECT_THAT(mounting_steps(swapped, UnitSystem::metric).front(), HasSubstr("Fork 2: hub at "));
}

TEST(MountWords, TinesAreToldOnTheClockFace) {
    Fork fork;
    fork.tines = {{.clock_rad = 0}, {.clock_rad = std::numbers::pi / 2}};
    EXPECT_EQ(tines_text(fork), "3 o'clock and 12 o'clock");
    fork.clock_rad = std::numbers::pi / 2;
    EXPECT_EQ(tines_text(fork), "12 o'clock and 9 o'clock");
}

TEST(MountWords, WithoutForksOrWeightsNoneAreTakenOff) {
    Assembly load = test::good_load();
    EXPECT_THAT(taking_down_steps(load, 1200), Contains("Let it rest 20 min on the rod."));
    EXPECT_THAT(taking_down_steps(load, 0), Contains("Let it rest on the rod."));
    EXPECT_THAT(taking_down_steps(load, 0), Contains(HasSubstr("Forks out first")));
    EXPECT_THAT(taking_down_steps(load, 0), Not(Contains(HasSubstr("counterweights"))));
    load.forks.clear();
    load.counterweights.push_back({.mass_kg = 0.3});
    EXPECT_THAT(taking_down_steps(load, 0), Not(Contains(HasSubstr("Forks"))));
    EXPECT_THAT(taking_down_steps(load, 0), Contains("Take the counterweights off. They are hot."));
}

TEST(MountWords, OnlyASquareRodLocksOnRails) {
    Assembly load = test::good_load();
    load.rod.section = Section::round;
    EXPECT_THAT(rolling_steps(load), Not(Contains(HasSubstr("square rod"))));
    load.rod.section = Section::square;
    EXPECT_THAT(rolling_steps(load), Contains(HasSubstr("A square rod on flat rails locks")));
}

TEST(CautionWords, EachStandsOnce) {
    std::vector<std::string> words = caution_words(test::good_load(), UnitSystem::us);
    const std::size_t all = words.size();
    std::sort(words.begin(), words.end());
    words.erase(std::unique(words.begin(), words.end()), words.end());
    EXPECT_EQ(words.size(), all);
    EXPECT_THAT(words, Contains(HasSubstr("A thermometer decides")));
    EXPECT_THAT(words, Contains("Makers' manuals, local codes and licensed practice come first."));
}

}  // namespace
}  // namespace evenspit
