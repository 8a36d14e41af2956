// SPDX-License-Identifier: MIT
#include "app/viewer/labels.h"

#include <random>

#include <gtest/gtest.h>

namespace evenspit::viewer {
namespace {

const Area scene{0, 40, 600, 400};

LabelWish wish_at(double x, double y, bool needed = true) {
    return {{x, y}, {x, y + 20}, {120, 18}, needed};
}

TEST(Labels, StandWhereTheyWouldIfNothingIsThere) {
    const auto placed = placed_labels({wish_at(300, 200)}, scene, {});
    ASSERT_TRUE(placed[0]);
    EXPECT_EQ(placed[0]->x, 240);
    EXPECT_EQ(placed[0]->y, 211);
}

TEST(Labels, NeverLieOverEachOtherAndStayInside) {
    std::mt19937 draw(7);
    std::uniform_real_distribution<double> x(0, 600), y(40, 440);
    for (int round = 0; round < 50; ++round) {
        std::vector<LabelWish> wishes;
        for (int i = 0; i < 12; ++i) wishes.push_back(wish_at(x(draw), y(draw)));
        const auto placed = placed_labels(wishes, scene, {});
        for (std::size_t i = 0; i < placed.size(); ++i) {
            ASSERT_TRUE(placed[i]);
            EXPECT_GE(placed[i]->x, scene.x);
            EXPECT_GE(placed[i]->y, scene.y);
            EXPECT_LE(placed[i]->x + placed[i]->width, scene.x + scene.width);
            EXPECT_LE(placed[i]->y + placed[i]->height, scene.y + scene.height);
            for (std::size_t j = 0; j < i; ++j) EXPECT_FALSE(overlap(*placed[i], *placed[j]));
        }
    }
}

TEST(Labels, GoRoundWhatIsTaken) {
    const Area fork{250, 180, 100, 80};
    const auto placed = placed_labels({wish_at(300, 200)}, scene, {fork});
    ASSERT_TRUE(placed[0]);
    EXPECT_FALSE(overlap(*placed[0], fork));
}

TEST(Labels, WhereAllIsTakenOnlyWhatIsNeededStands) {
    const auto placed = placed_labels({wish_at(300, 200), wish_at(300, 200, false)}, scene, {scene});
    EXPECT_TRUE(placed[0]);
    EXPECT_FALSE(placed[1]);
}

TEST(Labels, ALineEndsAtTheNearestEdge) {
    const Area label{100, 100, 50, 20};
    EXPECT_EQ(nearest_of(label, {90, 110}), Vec2(100, 110));
    EXPECT_EQ(nearest_of(label, {120, 300}), Vec2(120, 120));
}

}  // namespace
}  // namespace evenspit::viewer
