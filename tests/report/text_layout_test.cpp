// SPDX-License-Identifier: MIT
#include "report/text_layout.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace evenspit {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

TEST(DisplayWidth, CountsColumnsNotBytes) {
    EXPECT_EQ(display_width(""), 0);
    EXPECT_EQ(display_width("goose"), 5);
    EXPECT_EQ(display_width("149 °C"), 6);
    EXPECT_EQ(display_width("e\u0301"), 1) << "a combining accent takes no column";
    EXPECT_EQ(display_width("鵞鳥"), 4);
    EXPECT_EQ(display_width("\xF0\x9F\x8D\x97"), 2) << "a picture takes two";
}

TEST(DisplayWidth, EveryByteThatIsNoUtf8CountsOne) {
    EXPECT_EQ(display_width("\xFF\xFE"), 2);
    EXPECT_EQ(display_width("\xC3"), 1) << "cut short";
    EXPECT_EQ(display_width("\xC0\x80"), 2) << "overlong";
    EXPECT_EQ(display_width("\xED\xA0\x80"), 3) << "surrogate";
}

TEST(Printable, NoControlCharacterSurvives) {
    EXPECT_EQ(printable("a\x1b[31mb\tc\x7f"), "a [31mb c ");
    EXPECT_EQ(printable("a\u009Bb"), "a b") << "the one-character form of the escape too";
    EXPECT_EQ(printable("M\xFCller"), "M\uFFFDller");
    EXPECT_EQ(printable("Müller 鵞"), "Müller 鵞");
}

TEST(Shortened, CutsOnlyWhatIsTooLong) {
    EXPECT_EQ(shortened("goose", 5), "goose");
    EXPECT_EQ(shortened("goose", 4), "goo…");
    EXPECT_EQ(shortened("goose", 1), "…");
    EXPECT_EQ(shortened("鵞鳥", 3), "鵞…");
    EXPECT_EQ(shortened("鵞鳥", 2), "…") << "half a wide character is not shown";
}

TEST(Wrapped, BreaksAtSpacesAndNeverExceeds) {
    EXPECT_THAT(wrapped("the goose comes too near the coals", 10),
                ElementsAre("the goose", "comes too", "near the", "coals"));
    EXPECT_THAT(wrapped("  spaced \n out  ", 20), ElementsAre("spaced out"));
    EXPECT_THAT(wrapped("", 10), IsEmpty());
    EXPECT_THAT(wrapped("   ", 10), IsEmpty());
    EXPECT_THAT(wrapped("exactly ten", 11), ElementsAre("exactly ten"));
}

TEST(Wrapped, KeepsAFigureAndItsUnitTogether) {
    EXPECT_THAT(wrapped("it strikes by 6 mm", 15), ElementsAre("it strikes by", "6 mm"));
    EXPECT_THAT(wrapped("at most 0.55 N m, friction", 14), ElementsAre("at most", "0.55 N m,", "friction"));
    EXPECT_THAT(wrapped("weighs 10 lb 2 oz", 14), ElementsAre("weighs 10 lb", "2 oz"));
    EXPECT_THAT(wrapped("hub at 2 15/16 in, on", 13), ElementsAre("hub at", "2 15/16 in,", "on"));
    EXPECT_THAT(wrapped("-40 %", 4), ElementsAre("-40", "%")) << "where even that does not fit, it is cut";
    EXPECT_THAT(wrapped("take 2 counterweights", 10), ElementsAre("take 2", "counterwei", "ghts"));
}

TEST(Wrapped, MeasuresLettersAsItIsTold) {
    const MeasureText wide_m = [](std::string_view text) {
        double width = 0;
        for (const char c : text) width += c == 'm' ? 3 : 1;
        return width;
    };
    EXPECT_THAT(wrapped("a mm b", 8.5, wide_m), ElementsAre("a mm", "b"));
    EXPECT_THAT(wrapped("at 4.25 kg or more", 8, wide_m), ElementsAre("at", "4.25 kg", "or", "more"))
        << "never at a figure's point";
    EXPECT_THAT(wrapped("it takes 7.6 lbf in now", 10, wide_m), ElementsAre("it takes", "7.6 lbf in", "now"));
    EXPECT_THAT(wrapped("mm", 1, wide_m), ElementsAre("m", "m")) << "one letter at least";
    EXPECT_EQ(shortened("a long name", 7, wide_m), "a lo…") << "the sign takes three bytes here";
}
TEST(Wrapped, CutsWordsLongerThanALine) {
    EXPECT_THAT(wrapped("a /very/long/path b", 6), ElementsAre("a", "/very/", "long/p", "ath b"));
    EXPECT_THAT(wrapped("鵞鳥鵞", 4), ElementsAre("鵞鳥", "鵞"));
}

Table sample_table() {
    Table table({{"surface", false, true}, {"gap", true}, {""}});
    table.add_row({"coal bed of the cooker", "61 mm", ""});
    table.add_row({"dome", "104 mm", "close"});
    return table;
}

TEST(Table, AlignsNamesLeftAndFiguresRight) {
    EXPECT_THAT(sample_table().lines(60), ElementsAre("surface                    gap",  //
                                                      "coal bed of the cooker   61 mm",  //
                                                      "dome                    104 mm  close"));
}

TEST(Table, ShortensNamesWhereRoomIsScarce) {
    EXPECT_THAT(sample_table().lines(25), ElementsAre("surface        gap",  //
                                                      "coal bed…    61 mm", "dome        104 mm  close"));
}

TEST(Table, TellsRowsInWordsWhereNoTableFits) {
    EXPECT_THAT(sample_table().lines(18),
                ElementsAre("coal bed of the", "cooker, gap 61 mm", "dome, gap 104 mm,", "close"));
}

TEST(Bars, RunFromLeastToMost) {
    EXPECT_EQ(bars({}), "");
    EXPECT_EQ(bars({-1, 0, 1}), "▁▅█");
    EXPECT_EQ(bars({2, 2}), "▅▅");
    EXPECT_EQ(bars({0, 1, 2, 3, 4, 5, 6, 7}), "▁▂▃▄▅▆▇█");
}

}  // namespace
}  // namespace evenspit
