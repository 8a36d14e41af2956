// SPDX-License-Identifier: MIT
#include "geometry/hull.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

TEST(Hull, ATapeRoundASquareTouchesItsCorners) {
    // Points within and on the sides do not lengthen it.
    EXPECT_NEAR(hull_perimeter({{0, 0}, {2, 0}, {1, 1}, {2, 2}, {0, 2}, {1, 0}, {0.3, 1.7}}), 8, 1e-15);
}

TEST(Hull, ATapeSpansHollows) {
    EXPECT_NEAR(hull_perimeter({{0, 0}, {3, 0}, {3, 4}, {1, 1}}), 12, 1e-12);
}

TEST(Hull, ManyPointsOfACircleGiveItsLength) {
    std::vector<Vec2> points;
    for (int i = 0; i < 1000; ++i) {
        const double angle = i * 2.399963;  // out of order
        points.emplace_back(std::cos(angle), std::sin(angle));
    }
    EXPECT_NEAR(hull_perimeter(points), 2 * std::numbers::pi, 1e-4);
}

TEST(Hull, LittleIsThereToSpan) {
    EXPECT_EQ(hull_perimeter({}), 0);
    EXPECT_EQ(hull_perimeter({{1, 2}}), 0);
    EXPECT_NEAR(hull_perimeter({{0, 0}, {3, 4}}), 10, 1e-15) << "there and back";
}

}  // namespace
}  // namespace evenspit
