// SPDX-License-Identifier: MIT
#include "units/dial.h"

#include <numbers>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

constexpr double degree = std::numbers::pi / 180;

TEST(Dial, TellsTheNearestHalfHour) {
    EXPECT_EQ(dial_text(90 * degree), "12 o'clock");
    EXPECT_EQ(dial_text(0), "3 o'clock");
    EXPECT_EQ(dial_text(-90 * degree), "6 o'clock");
    EXPECT_EQ(dial_text(180 * degree), "9 o'clock");
    EXPECT_EQ(dial_text(75 * degree), "half past 12");
    EXPECT_EQ(dial_text(105 * degree), "half past 11");
    EXPECT_EQ(dial_text(60 * degree), "1 o'clock");
    EXPECT_EQ(dial_text(359.9 * degree), "3 o'clock");
    EXPECT_EQ(dial_text(82 * degree), "half past 12");
    EXPECT_EQ(dial_text(83 * degree), "12 o'clock");
    EXPECT_EQ(dial_text(97 * degree), "12 o'clock");
}

TEST(Dial, TellsWhatIsSetToFiveMinutes) {
    const auto told = [](double degrees) { return dial_text(degrees * degree, DialSteps::minutes); };
    EXPECT_EQ(told(75), "half past 12");
    EXPECT_EQ(told(0), "3 o'clock");
    EXPECT_EQ(told(20), "20 minutes past 2");
    EXPECT_EQ(told(5), "10 minutes to 3");
    EXPECT_EQ(told(82.5), "a quarter past 12");
    EXPECT_EQ(told(92), "5 minutes to 12");
    EXPECT_EQ(told(91), "12 o'clock");
    EXPECT_EQ(told(89), "12 o'clock");
    EXPECT_EQ(told(100), "20 minutes to 12");
    EXPECT_EQ(told(10 + 360), "20 minutes to 3");
    EXPECT_EQ(told(67.5), "a quarter to 1");
}

TEST(Dial, StandsBesideTheClockAngleOfFiles) {
    EXPECT_EQ(dial_and_clock_text(75 * degree), "half past 12 (75°)");
    EXPECT_EQ(dial_and_clock_text(80 * degree), "half past 12 (80°)");
    EXPECT_EQ(dial_and_clock_text(80 * degree, DialSteps::minutes), "20 minutes past 12 (80°)");
}

TEST(Dial, CountsTurnsInHours) {
    EXPECT_EQ(dial_turn_text(60 * degree), "2 hours");
    EXPECT_EQ(dial_turn_text(-30 * degree), "1 hour");
    EXPECT_EQ(dial_turn_text(15 * degree), "half an hour");
    EXPECT_EQ(dial_turn_text(-45 * degree), "1 1/2 hours");
    EXPECT_EQ(dial_turn_text(35 * degree), "1 hour and 10 minutes");
    EXPECT_EQ(dial_turn_text(5 * degree), "10 minutes");
    EXPECT_EQ(dial_turn_text(180 * degree), "6 hours");
    EXPECT_EQ(dial_turn_text(1 * degree), "0 hours");
}

}  // namespace
}  // namespace evenspit
