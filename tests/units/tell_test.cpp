// SPDX-License-Identifier: MIT
#include "units/tell.h"

#include <limits>
#include <numbers>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

using std::numbers::pi;

constexpr UnitSystem metric = UnitSystem::metric, us = UnitSystem::us;

TEST(LengthText, IsWhatATapeShows) {
    EXPECT_EQ(length_text(0.1394, metric), "139 mm");
    EXPECT_EQ(length_text(-0.0154, metric), "-15 mm");
    EXPECT_EQ(length_text(-0.0004, metric), "0 mm");
    EXPECT_EQ(length_text(1.2, metric), "1200 mm");
    EXPECT_EQ(length_text(0.13176, us), "5 3/16 in");
    EXPECT_EQ(length_text(0.0508, us), "2 in");
    EXPECT_EQ(length_text(0.0048, us), "3/16 in");
    EXPECT_EQ(length_text(-0.0381, us), "-1 1/2 in");
    EXPECT_EQ(length_text(0.0001, us), "0 in");
}

TEST(LengthText, IsRoundedUpWhereItMustBeEnough) {
    EXPECT_EQ(length_text(0.0179, metric, {}, Rounding::up), "18 mm");
    EXPECT_EQ(length_text(0.0171, metric, {}, Rounding::up), "18 mm");
    EXPECT_EQ(length_text(0.62 - 0.61, metric, {}, Rounding::up), "10 mm") << "but for a double's rounding";
    EXPECT_EQ(length_text(0.0171, us, {}, Rounding::up), "11/16 in");
}

TEST(SlackText, HasADecimalWhereSmallLimitsLie) {
    EXPECT_EQ(slack_text(0.0436, metric), "44 mm");
    EXPECT_EQ(slack_text(0.00469, metric), "4.7 mm");
    EXPECT_EQ(slack_text(0.00996, metric), "10 mm");
    EXPECT_EQ(slack_text(0.00469, us), "3/16 in");
    EXPECT_EQ(slack_text(0, metric), "0 mm");
    EXPECT_EQ(slack_text(0.00004, metric), "0.04 mm") << "not nothing";
    EXPECT_EQ(slack_text(-0.0003, us), "-1/64 in");
}

// A figure that is told as its limit would contradict the verdict.
TEST(Told, AFigureIsNeverRoundedToItsLimit) {
    EXPECT_EQ(slack_text(0.00497, metric, {0.005}), "4.97 mm");
    EXPECT_EQ(slack_text(0.00503, metric, {0, 0.003, 0.005}), "5.03 mm");
    EXPECT_EQ(slack_text(0.0248, metric, {0.025}), "24.8 mm");
    EXPECT_EQ(slack_text(0.005, metric, {0.005}), "5 mm");
    EXPECT_EQ(slack_text(0.005 - 1e-11, metric, {0.005}), "just under 5 mm");
    EXPECT_EQ(slack_text(0.005 + 1e-11, metric, {0.005}), "just over 5 mm");
    EXPECT_EQ(share_text(0.996), "99.6 %");
    EXPECT_EQ(share_text(1.004), "100.4 %");
    EXPECT_EQ(share_text(0.597, {0.6}), "59.7 %");
    EXPECT_EQ(torque_text(2.49, metric, {2.5}), "2.49 N m");
    EXPECT_EQ(torque_text(2.4, metric, {2.5}), "2.4 N m");
}

TEST(Told, AFigureAndItsLimitAreToldApart) {
    const Beside cover = slack_beside(0.00297, 0.003, metric), gap = slack_beside(0.00485, 0.005, us),
                 pull = torque_beside(1.71, 1.68, metric), station = length_beside(0.0598, 0.06, metric),
                 far = slack_beside(0.0436, 0.05, metric);
    EXPECT_EQ(cover.figure + " < " + cover.limit, "2.97 mm < 3 mm");
    EXPECT_EQ(gap.figure + " < " + gap.limit, "3/16 in < 13/64 in");
    EXPECT_EQ(pull.figure + " > " + pull.limit, "1.71 N m > 1.68 N m");
    EXPECT_EQ(station.figure + " < " + station.limit, "59.8 mm < 60 mm");
    EXPECT_EQ(far.figure + " < " + far.limit, "44 mm < 50 mm");
}

// Whatever the figures: what is told of a figure and its limit has their order.
TEST(Told, RoundingNeverTurnsTheOrderOfAFigureAndItsLimit) {
    for (const UnitSystem units : {metric, us}) {
        for (const double limit_m : {0.003, 0.005, 0.0254, 0.025, 0.05}) {
            for (int i = -400; i <= 400; ++i) {
                const double m = limit_m * (1 + i * 2.5e-4);
                if (i == 0) continue;
                const Beside told = slack_beside(m, limit_m, units);
                ASSERT_NE(told.figure, told.limit) << m;
                const double shown = parse_quantity(told.figure, Dimension::length),
                             limit = parse_quantity(told.limit, Dimension::length);
                ASSERT_EQ(shown < limit, m < limit_m) << told.figure << " beside " << told.limit;
            }
        }
    }
}

TEST(MassText, IsWhatAKitchenScaleShows) {
    EXPECT_EQ(mass_text(5.9, metric), "5.9 kg");
    EXPECT_EQ(mass_text(2.1234, metric), "2.12 kg");
    EXPECT_EQ(mass_text(0.448, metric), "450 g");
    EXPECT_EQ(mass_text(0.0367, metric), "37 g");
    EXPECT_EQ(mass_text(0.9996, metric), "1 kg");
    EXPECT_EQ(mass_text(5.89670081, us), "13 lb");
    EXPECT_EQ(mass_text(6.7, us), "14 lb 12 oz");
    EXPECT_EQ(mass_text(0.15, us), "5 1/4 oz");
    EXPECT_EQ(mass_text(0.4535, us), "1 lb");
}

TEST(WeightText, HasStepsThatOneCanSetAndIsEnoughWhereItMustBe) {
    EXPECT_EQ(weight_text(0.334, metric), "335 g");
    EXPECT_EQ(weight_text(0.3301, metric, Rounding::up), "335 g");
    EXPECT_EQ(weight_text(4.2415, metric, Rounding::up), "4.25 kg");
    EXPECT_EQ(weight_text(0, metric), "0 g");
    EXPECT_EQ(weight_text(0, metric, Rounding::up), "5 g") << "something must be set";
    EXPECT_EQ(weight_text(0.29478, us, Rounding::up), "10 1/2 oz");
    EXPECT_EQ(weight_text(0, us, Rounding::up), "1/4 oz");
    EXPECT_EQ(weight_text(1, us, Rounding::up), "2 lb 4 oz");
}

TEST(TorqueText, HasTwoDigits) {
    EXPECT_EQ(torque_text(0.361, metric), "0.36 N m");
    EXPECT_EQ(torque_text(12.4, metric), "12 N m");
    EXPECT_EQ(torque_text(0.361, us), "3.2 lbf in");
    EXPECT_EQ(torque_text(5.02, metric, {}, Rounding::up), "5.1 N m");
    EXPECT_EQ(torque_text(5, metric, {}, Rounding::up), "5 N m");
    EXPECT_EQ(torque_text(0.361, us, {}, Rounding::up), "3.2 lbf in");
}

TEST(ShareText, IsInWholePerCents) {
    EXPECT_EQ(share_text(0.047), "5 %");
    EXPECT_EQ(share_text(0.47), "47 %");
    EXPECT_EQ(share_text(1.124), "112 %");
    EXPECT_EQ(share_text(12.344), "1234 %");
    EXPECT_EQ(share_text(-0.047), "-5 %");
    EXPECT_EQ(share_text(1), "100 %");
    EXPECT_EQ(share_text(1 - 1e-16), "100 %");
}

TEST(ShareText, TellsALittleFromNothing) {
    EXPECT_EQ(share_text(0), "0 %");
    EXPECT_EQ(share_text(1e-9), "0 %");
    EXPECT_EQ(share_text(0.0001), "under 1 %");
    EXPECT_EQ(share_text(0.0049), "under 1 %");
    EXPECT_EQ(share_text(0.0051), "1 %");
}

TEST(ShareText, SaysWhatIsNotKnown) {
    EXPECT_EQ(share_text(std::numeric_limits<double>::quiet_NaN()), "not known");
    EXPECT_EQ(share_text(std::numeric_limits<double>::infinity()), "not known");
    for (const UnitSystem units : {metric, us}) {
        const double nan = std::numeric_limits<double>::quiet_NaN();
        EXPECT_EQ(length_text(nan, units), "not known");
        EXPECT_EQ(slack_text(nan, units, {0.005}), "not known");
        EXPECT_EQ(mass_text(nan, units), "not known");
        EXPECT_EQ(weight_text(nan, units, Rounding::up), "not known");
        EXPECT_EQ(torque_text(nan, units), "not known");
        EXPECT_EQ(slack_beside(nan, 0.005, units).figure, "not known");
    }
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
