// SPDX-License-Identifier: MIT
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "card/drawn_parts.h"

namespace evenspit::card {
namespace {

using testing::DoubleNear;
using testing::ElementsAre;

TEST(SpreadOut, WhatHasRoomStaysWhereItBelongs) {
    EXPECT_THAT(spread_out({20, 60}, {10, 10}, 2, 0, 100), ElementsAre(20, 60));
}

TEST(SpreadOut, WhatWouldOverlapMovesApartEvenly) {
    EXPECT_THAT(spread_out({50, 50}, {10, 10}, 2, 0, 100), ElementsAre(44, 56));
    EXPECT_THAT(spread_out({50, 50, 51}, {10, 10, 10}, 0, 0, 100),
                ElementsAre(DoubleNear(40.33, 0.01), DoubleNear(50.33, 0.01), DoubleNear(60.33, 0.01)));
}

TEST(SpreadOut, NothingLeavesTheRow) {
    EXPECT_THAT(spread_out({0, 100}, {10, 10}, 2, 0, 100), ElementsAre(5, 95));
}

TEST(SpreadOut, TooManyHaveNoPlace) {
    EXPECT_TRUE(spread_out({10, 20, 30}, {40, 40, 40}, 2, 0, 100).empty());
}

}  // namespace
}  // namespace evenspit::card
