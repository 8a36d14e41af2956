// SPDX-License-Identifier: MIT
#include "card/sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace evenspit::card {
namespace {

using testing::ElementsAre;

/// Every byte half as wide as high; letters of several bytes are not told apart.
double half_as_wide(std::string_view text, double size_pt, bool) {
    return 0.5 * size_pt * double(text.size());
}

TEST(Lines, BreakAtSpaces) {
    EXPECT_THAT(lines_of(half_as_wide, "push the rod through", 10, false, 60),
                ElementsAre("push the rod", "through"));
    EXPECT_THAT(lines_of(half_as_wide, "", 10, false, 60), ElementsAre());
}

TEST(Lines, AFigureStaysWithItsUnit) {
    EXPECT_THAT(lines_of(half_as_wide, "hub at 190 mm", 10, false, 55), ElementsAre("hub at", "190 mm"));
    EXPECT_THAT(lines_of(half_as_wide, "hub at 7 1/2 in", 10, false, 55), ElementsAre("hub at", "7 1/2 in"));
    EXPECT_THAT(lines_of(half_as_wide, "at 12 o'clock", 10, false, 60), ElementsAre("at", "12 o'clock"));
}

TEST(Lines, AWordThatIsTooLongIsCutBetweenLetters) {
    EXPECT_THAT(lines_of(half_as_wide, "abcdefgh", 10, false, 20), ElementsAre("abcd", "efgh"));
    for (const std::string& line : lines_of(half_as_wide, "ééééé", 10, false, 25))
        EXPECT_EQ(line.size() % 2, 0U) << line;
}

TEST(CutTo, EndsInDots) {
    EXPECT_EQ(cut_to(half_as_wide, "short", 10, false, 100), "short");
    EXPECT_EQ(cut_to(half_as_wide, "much too long", 10, false, 40), "much…");
    EXPECT_EQ(cut_to(half_as_wide, "much", 10, false, 5), "…");
}

TEST(Sheet, ATextTakesTheRoomWhereItStands) {
    Sheet sheet{100, 100, {}};
    const Frame room = sheet.text(half_as_wide, {50, 20}, 0.5, "abcd", 10);
    EXPECT_DOUBLE_EQ(room.x, 40);
    EXPECT_DOUBLE_EQ(room.width, 20);
    EXPECT_DOUBLE_EQ(std::get<SheetText>(sheet.shapes.front()).line_y(), 20);
    Sheet other{200, 200, {}};
    other.add(sheet, {5, 7});
    EXPECT_DOUBLE_EQ(std::get<SheetText>(other.shapes.front()).room.x, 45);
    EXPECT_DOUBLE_EQ(std::get<SheetText>(other.shapes.front()).line_y(), 27);
}

}  // namespace
}  // namespace evenspit::card
