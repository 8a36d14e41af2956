// SPDX-License-Identifier: MIT
#include "report/reader_units.h"

#include <limits>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
const Units metric(UnitSystem::metric), us(UnitSystem::us);

TEST(Units, TellFiguresInTheReadersUnits) {
    EXPECT_EQ(metric.length(0.0123), "12 mm");
    EXPECT_EQ(us.length(0.0123), "1/2 in");
    EXPECT_EQ(us.length(0.0254), "1 in");
    EXPECT_EQ(metric.volume(0.004), "4 l");
    EXPECT_EQ(us.volume(0.000946352946), "1 qt");
    EXPECT_EQ(metric.unbalance(0.05), "0.05 kg m");
    EXPECT_EQ(us.unbalance(0.45359237 * 0.0254), "1 lb in");
}

// A rating or a stock weight is known by the very figure on it.
TEST(Units, TellWhatWasGivenSoThatItIsKnownAgain) {
    EXPECT_EQ(metric.given(1.25, Dimension::torque), "1.25 N m");
    EXPECT_EQ(metric.torque(1.25 + 1e-9), "1.3 N m");
    EXPECT_EQ(metric.given(0.227, Dimension::mass), "227 g");
    EXPECT_EQ(us.given(0.15, Dimension::mass), "5 1/4 oz");
}

TEST(Stations, AreToldFromTheMarkToo) {
    const Stations plain(UnitSystem::metric, std::nullopt), marked(UnitSystem::metric, 0.025),
        in_us(UnitSystem::us, 0.0254);
    EXPECT_FALSE(plain.has_mark());
    EXPECT_EQ(plain(0.19), "190 mm");
    EXPECT_EQ(marked(0.19), "190 mm (165 mm past the mark)");
    EXPECT_EQ(marked(0.013), "13 mm (12 mm before the mark)");
    EXPECT_EQ(marked(0.0252), "25 mm (at the mark)");
    EXPECT_EQ(in_us(0.19), "7 1/2 in (6 1/2 in past the mark)");
    EXPECT_EQ(marked.past_mark(0.013), "-12 mm");
    EXPECT_EQ(marked.from_mark(nan), "");
}

TEST(Units, TellRoundingAsNothing) {
    EXPECT_EQ(metric.length(1e-9), "0 mm");
    EXPECT_EQ(metric.torque(-1e-12), metric.torque(0));
}

TEST(Units, SayWhatIsNotKnownAndLeaveADashForWhatIsAbsent) {
    EXPECT_EQ(metric.mass(nan), "not known");
    EXPECT_EQ(metric.of(std::optional<double>(), Dimension::mass), "–");
    EXPECT_EQ(metric.of(std::optional<double>(nan), Dimension::mass), "–");
    EXPECT_EQ(metric.of(std::optional<double>(2), Dimension::mass), "2 kg");
    EXPECT_EQ(Units::share(nan), "not known");
    EXPECT_EQ(Units::share(std::optional<double>()), "–");
    EXPECT_EQ(Units::share(std::optional<double>(0.047)), "5 %");
}

// Nobody weighs coals to ten grams.
TEST(Units, TellFuelAndItsBedRoughly) {
    EXPECT_EQ(metric.rough_mass(10.96), "11 kg");
    EXPECT_EQ(metric.rough_mass(2.149), "2.1 kg");
    EXPECT_EQ(metric.rough_mass(0.4567), "460 g");
    EXPECT_EQ(metric.rough_mass(0), "0 g");
    EXPECT_EQ(us.rough_mass(10.96), "24 lb");
    EXPECT_EQ(metric.rough_length(0.718), "720 mm");
    EXPECT_EQ(us.rough_length(0.718), "28 in");
}

TEST(Units, HaveOneUnitForAnAxis) {
    EXPECT_EQ(metric.axis(Dimension::length).name, "mm");
    EXPECT_EQ(metric.axis(Dimension::length).si, 1e-3);
    EXPECT_EQ(us.axis(Dimension::length).name, "in");
    EXPECT_EQ(us.axis(Dimension::length).si, 0.0254);
    EXPECT_EQ(us.axis(Dimension::torque).name, "lbf in");
    EXPECT_NEAR(us.axis(Dimension::torque).si, 0.1129848290276167, 1e-15);
    EXPECT_EQ(us.axis(Dimension::mass).si, 0.45359237);
    EXPECT_EQ(us.axis(Dimension::number).si, 1);
    EXPECT_EQ(us.axis(Dimension::number).name, "");
}

}  // namespace
}  // namespace evenspit
