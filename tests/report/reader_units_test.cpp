// SPDX-License-Identifier: MIT
#include "report/reader_units.h"

#include <limits>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
const Units metric(UnitSystem::metric), us(UnitSystem::us);

TEST(Units, TellFiguresInTheReadersUnits) {
    EXPECT_EQ(metric.length(0.0123), "12.3 mm");
    EXPECT_EQ(us.length(0.0254), "1 in");
    EXPECT_EQ(metric.volume(0.004), "4 l");
    EXPECT_EQ(us.volume(0.000946352946), "1 qt");
    EXPECT_EQ(metric.unbalance(0.05), "0.05 kg m");
    EXPECT_EQ(us.unbalance(0.45359237 * 0.0254), "1 lb in");
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
    EXPECT_EQ(Units::share(std::optional<double>(0.047)), "4.7 %");
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
