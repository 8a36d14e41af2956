// SPDX-License-Identifier: MIT
#include "report/picture.h"

#include <limits>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/svg_text.h"

namespace evenspit {
namespace {

using test::is_well_formed;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

constexpr Frame box{0, 0, 10, 10};

double area(const std::vector<Vec2>& corners) {
    double twice = 0;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Vec2 &a = corners[i], &b = corners[(i + 1) % corners.size()];
        twice += a.x() * b.y() - a.y() * b.x();
    }
    return std::abs(twice) / 2;
}

double length(const std::vector<std::vector<Vec2>>& pieces) {
    double sum = 0;
    for (const std::vector<Vec2>& piece : pieces) {
        for (std::size_t i = 0; i + 1 < piece.size(); ++i) sum += (piece[i + 1] - piece[i]).norm();
    }
    return sum;
}

TEST(Frame, OverlapsOnlyWithArea) {
    EXPECT_TRUE(box.overlaps({9, 9, 5, 5}));
    EXPECT_FALSE(box.overlaps({10, 0, 5, 5}));
    EXPECT_FALSE(box.overlaps({0, -5, 5, 5}));
}

TEST(ClippedLine, KeepsWhatLiesInside) {
    const auto whole = clipped_line({{1, 1}, {2, 2}, {9, 1}}, box);
    ASSERT_EQ(whole.size(), 1U);
    EXPECT_EQ(whole[0].size(), 3U);
    EXPECT_TRUE(clipped_line({{-1, 5}, {-1, 20}}, box).empty());
    EXPECT_TRUE(clipped_line({{-8, 5}, {5, 18}}, box).empty());
    EXPECT_TRUE(clipped_line({{1, 1}}, box).empty());
}

TEST(ClippedLine, CutsAtTheEdges) {
    const auto through = clipped_line({{-10, 5}, {20, 5}}, box);
    ASSERT_EQ(through.size(), 1U);
    EXPECT_NEAR(length(through), 10, 1e-12);
    // Out and in again: two pieces.
    const auto twice = clipped_line({{5, 5}, {5, 15}, {6, 15}, {6, 5}}, box);
    ASSERT_EQ(twice.size(), 2U);
    EXPECT_NEAR(length(twice), 10, 1e-12);
}

TEST(ClippedLine, IsCutByWhatIsNotFinite) {
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_EQ(clipped_line({{1, 1}, {2, 1}, {nan, nan}, {3, 1}, {4, 1}}, box).size(), 2U);
}

TEST(ClippedPolygon, KeepsTheAreaInside) {
    EXPECT_NEAR(area(clipped_polygon({{1, 1}, {3, 1}, {3, 3}, {1, 3}}, box)), 4, 1e-12);
    EXPECT_NEAR(area(clipped_polygon({{5, 5}, {25, 5}, {25, 25}, {5, 25}}, box)), 25, 1e-12);
    EXPECT_NEAR(area(clipped_polygon({{-10, 0}, {10, -20}, {30, 0}, {10, 20}}, box)), 100, 1e-12);
    EXPECT_TRUE(clipped_polygon({{11, 1}, {13, 1}, {13, 3}}, box).empty());
    EXPECT_TRUE(clipped_polygon({}, box).empty());
}

TEST(Dashes, CoverTheirShareOfALineRoundCorners) {
    const auto cut = dashes({{0, 0}, {7, 0}, {7, 43}}, 6, 4);
    ASSERT_EQ(cut.size(), 5U);
    EXPECT_NEAR(length(cut), 30, 1e-9);
    EXPECT_EQ(cut[1].front(), Vec2(7, 3));
    EXPECT_TRUE(dashes({}, 6, 4).empty());
    EXPECT_TRUE(dashes({{1, 1}}, 6, 4).empty());
}

TEST(SvgDocument, IsWellFormedWhateverTheWordsAre) {
    const Picture picture = {
        PictureLine{{{0, 0}, {5, 5}}, Role::now, 2, 0.5},
        PicturePolygon{{{0, 0}, {1, 0}, {1, 1}}, Role::stop}, PictureDot{{3, 4}, 2, Role::care},
        PictureText{{0, 0, 10, 10}, 0.5, "a < b & \"c\" > \x1b[31m\xff", Role::plain, Lettering::title}};
    const std::string svg = svg_document(picture, 200, 100);
    EXPECT_TRUE(is_well_formed(svg)) << svg;
    EXPECT_THAT(svg, AllOf(HasSubstr("width=\"200\" height=\"100\""),
                           HasSubstr("<polyline points=\"0.0,0.0 5.0,5.0\""), HasSubstr("<polygon"),
                           HasSubstr("<circle cx=\"3.0\" cy=\"4.0\" r=\"2\""),
                           HasSubstr("a &lt; b &amp; &quot;c&quot; &gt;")));
    EXPECT_THAT(svg, Not(HasSubstr("\x1b")));
    EXPECT_THAT(svg, Not(HasSubstr("\xff")));
    EXPECT_TRUE(is_well_formed(svg_document({}, 10, 10)));
    EXPECT_FALSE(is_well_formed("<svg><g></svg>"));
}

TEST(SvgDocument, PutsFieldsUnderThePicture) {
    const std::string svg =
        svg_document({PictureDot{{3, 4}, 2, Role::care}}, 10, 10, "<g id=\"field\"></g>\n");
    EXPECT_TRUE(is_well_formed(svg));
    ASSERT_NE(svg.find("field"), std::string::npos);
    EXPECT_LT(svg.find("<rect"), svg.find("field"));
    EXPECT_LT(svg.find("field"), svg.find("<circle"));
}

TEST(SvgDocument, HoldsLettersAtTheirAnchor) {
    const auto text = [](double anchor) {
        return svg_document({PictureText{{10, 0, 40, 10}, anchor, "w", Role::plain, Lettering::small}}, 100,
                            100);
    };
    EXPECT_THAT(text(0), HasSubstr("x=\"10.0\" y=\"8.0\" text-anchor=\"start\""));
    EXPECT_THAT(text(0.5), HasSubstr("x=\"30.0\" y=\"8.0\" text-anchor=\"middle\""));
    EXPECT_THAT(text(1), HasSubstr("x=\"50.0\" y=\"8.0\" text-anchor=\"end\""));
}

}  // namespace
}  // namespace evenspit
