// SPDX-License-Identifier: MIT
#include "units/tell.h"

#include <limits>
#include <numbers>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

using std::numbers::pi;

TEST(ShareText, HasTwoDigitsAndWholePerCentsFromTenOn) {
    EXPECT_EQ(share_text(0.047), "4.7 %");
    EXPECT_EQ(share_text(0.0994), "9.9 %");
    EXPECT_EQ(share_text(0.0996), "10 %");
    EXPECT_EQ(share_text(0.47), "47 %");
    EXPECT_EQ(share_text(1.124), "112 %");
    EXPECT_EQ(share_text(12.344), "1234 %");
    EXPECT_EQ(share_text(-0.047), "-4.7 %");
}

TEST(ShareText, HasNoZerosAtItsEndAndNoPowersOfTen) {
    EXPECT_EQ(share_text(0), "0 %");
    EXPECT_EQ(share_text(0.05), "5 %");
    EXPECT_EQ(share_text(0.5), "50 %");
    EXPECT_EQ(share_text(1), "100 %");
    EXPECT_EQ(share_text(1.2e-8), "0.0000012 %");
    EXPECT_EQ(share_text(1e-320), "0 %");
}

TEST(ShareText, TakesAsManyDigitsAsAskedFor) {
    EXPECT_EQ(share_text(0.047, 1), "5 %");
    EXPECT_EQ(share_text(0.474, 1), "47 %");
    EXPECT_EQ(share_text(0.0047, 1), "0.5 %");
    EXPECT_EQ(share_text(0.6534, 3), "65.3 %");
    EXPECT_EQ(share_text(0.9996, 3), "100 %");
}

TEST(ShareText, SaysWhatIsNotKnown) {
    EXPECT_EQ(share_text(std::numeric_limits<double>::quiet_NaN()), "not known");
    EXPECT_EQ(share_text(std::numeric_limits<double>::infinity()), "not known");
}

TEST(TurnDegrees, StaysWithinOneTurn) {
    EXPECT_DOUBLE_EQ(turn_degrees(pi / 2), 90);
    EXPECT_DOUBLE_EQ(turn_degrees(-pi / 2), 270);
    EXPECT_DOUBLE_EQ(turn_degrees(5 * pi), 180);
    EXPECT_EQ(turn_degrees(-1e-20), 0);
}

TEST(AngleText, KeepsItsSign) {
    EXPECT_EQ(angle_text(-12.4 * pi / 180), "-12°");
    EXPECT_EQ(angle_text(2 * pi), "360°");
    EXPECT_EQ(angle_text(-1e-3), "0°");
}

TEST(ClockText, IsNeverAWholeTurn) {
    EXPECT_EQ(clock_text(93.2 * pi / 180), "93°");
    EXPECT_EQ(clock_text(359.7 * pi / 180), "0°");
    EXPECT_EQ(clock_text(-0.2 * pi / 180), "0°");
    EXPECT_EQ(clock_text(-pi / 2), "270°");
}

}  // namespace
}  // namespace evenspit
