// SPDX-License-Identifier: MIT
#include "app/viewer/dial_scale.h"

#include <cmath>

#include <gtest/gtest.h>

namespace evenspit::viewer {
namespace {

TEST(DialRim, IsTheNextRoundFigure) {
    EXPECT_DOUBLE_EQ(rim_of(0.3, 1), 0.5);
    EXPECT_DOUBLE_EQ(rim_of(1.2, 1), 2);
    EXPECT_DOUBLE_EQ(rim_of(4.6, 1), 5);
    EXPECT_DOUBLE_EQ(rim_of(7, 1), 10);
    EXPECT_DOUBLE_EQ(rim_of(5, 1), 5) << "a round one is its own rim";
    EXPECT_DOUBLE_EQ(rim_of(0.02, 1), 0.02);
    EXPECT_DOUBLE_EQ(rim_of(0, 3), 3);
}

TEST(DialRim, IsRoundInTheReadersUnit) {
    const double pound_inch = 0.1129848290276167;
    EXPECT_DOUBLE_EQ(rim_of(0.2, pound_inch), 2 * pound_inch);
}

TEST(DialRim, TheArrowFillsAtLeastTwoFifthsOfIt) {
    for (double value = 1e-3; value < 1e3; value *= 1.07) {
        const double share = value / rim_of(value, 1);
        EXPECT_LE(share, 1 + 1e-9) << value;
        EXPECT_GE(share, 0.4 - 1e-9) << value;
    }
}

}  // namespace
}  // namespace evenspit::viewer
