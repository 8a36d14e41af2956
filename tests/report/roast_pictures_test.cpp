// SPDX-License-Identifier: MIT
#include "report/roast_pictures.h"

#include <cmath>
#include <limits>
#include <numbers>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/sample_cook.h"
#include "report/svg_text.h"

namespace evenspit {
namespace {

using test::cook_takes_s;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

/// Relative luminance of "#rrggbb" (ITU-R BT.709).
double luminance(const std::string& colour) {
    const auto part = [&](std::size_t at) {
        const double v = std::stoi(colour.substr(at, 2), nullptr, 16) / 255.0;
        return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5);
}

TEST(HeatBands, CoverTheRangeInWholeSteps) {
    const HeatBands bands = HeatBands::over(3.9, 121, 5);
    EXPECT_DOUBLE_EQ(bands.from, 0);
    EXPECT_DOUBLE_EQ(bands.to(), 125);
    EXPECT_EQ(bands.count, 25U);
    EXPECT_EQ(bands.of(3.9), 0U);
    EXPECT_EQ(bands.of(5), 1U);
    EXPECT_EQ(bands.of(121), 24U);
    EXPECT_EQ(bands.of(-1000), 0U);
    EXPECT_EQ(bands.of(1000), 24U);
    const HeatBands whole = HeatBands::over(0.7, 1.3, 0.1);
    EXPECT_EQ(whole.count, 6U) << "ends on a step are no bands of their own";
    EXPECT_EQ(HeatBands::over(4, 4, 5).count, 1U);
}

TEST(HeatBands, GetLighterFromBandToBand) {
    for (const std::size_t count : {2U, 7U, 40U}) {
        const HeatBands bands{0, 1, count};
        for (std::size_t band = 1; band < count; ++band)
            EXPECT_GT(luminance(bands.colour(band)), luminance(bands.colour(band - 1))) << band;
    }
    // Enough to be told apart in print: WCAG's contrast of the ends.
    const HeatBands bands{0, 1, 10};
    EXPECT_GT((luminance(bands.colour(9)) + 0.05) / (luminance(bands.colour(0)) + 0.05), 10);
}

TEST(HeatField, IsCroppedAndMadeCoarser) {
    const HeatField field{{4, 3},
                          {nothing, nothing, nothing, nothing,  //
                           nothing, 1, 2, nothing,              //
                           nothing, 3, nothing, nothing}};
    const HeatField::Window window = field.window();
    EXPECT_EQ(window.from, (std::array<std::size_t, 2>{1, 1}));
    EXPECT_EQ(window.to, (std::array<std::size_t, 2>{3, 3}));
    const HeatField coarse = field.coarser(2);
    EXPECT_EQ(coarse.count, (std::array<std::size_t, 2>{2, 2}));
    EXPECT_TRUE(std::isnan(coarse.at(0, 0))) << "a quarter of it is too little";
    EXPECT_DOUBLE_EQ(coarse.at(0, 1), 3) << "half of what there is at the edge";
    const HeatField empty{{2, 1}, {nothing, nothing}};
    EXPECT_EQ(empty.window().to, (std::array<std::size_t, 2>{0, 0}));
}

TEST(HeatField, EqualColoursInARowAreOneLine) {
    const HeatField field{{5, 1}, {1, 1, 1, 7, nothing}};
    const std::string svg = field_svg(field, HeatBands::over(0, 10, 5), {0, 10}, {2, 2});
    EXPECT_TRUE(test::is_well_formed(svg)) << svg;
    EXPECT_THAT(svg, AllOf(HasSubstr("d=\"M0 0h3\""), HasSubstr("d=\"M3 0h1\"")));
}

TEST(LevelLine, FollowsACircle) {
    HeatField field{{41, 41}, {}};
    for (int up = 0; up < 41; ++up) {
        for (int across = 0; across < 41; ++across) field.values.push_back(std::hypot(across - 20, up - 20));
    }
    const auto pieces = level_line(field, 12.3);
    double length = 0;
    for (const auto& [a, b] : pieces) {
        EXPECT_NEAR((a - Vec2(20.5, 20.5)).norm(), 12.3, 0.02);
        length += (a - b).norm();
    }
    EXPECT_NEAR(length, 2 * std::numbers::pi * 12.3, 0.3);
    EXPECT_TRUE(level_line(field, 100).empty());
    // Where there is nothing there is no line.
    field.values.assign(field.values.size(), nothing);
    EXPECT_TRUE(level_line(field, 12.3).empty());
}

class RoastPictures : public ::testing::Test {
  protected:
    Assembly load = test::cooked_assembly();
    cook::CookCourse course = test::sample_cook(load);
};

TEST_F(RoastPictures, TheNearestCutsAreTaken) {
    const std::vector<RoastCut> cuts = cuts_at(course.roast, {0.55 * cook_takes_s, 0.45 * cook_takes_s});
    ASSERT_EQ(cuts.size(), 2U) << "both ask for the same two, which are drawn once";
    EXPECT_DOUBLE_EQ(cuts[0].time_s, cook_takes_s / 2);
    EXPECT_NE(cuts[0].lengthwise, cuts[1].lengthwise);
    EXPECT_EQ(cuts_at(course.roast, {0, 1e9}).size(), 4U);
    EXPECT_TRUE(cuts_at(course.roast, {}).empty());
}

TEST_F(RoastPictures, CutsTellWhereAndWhen) {
    for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
        const std::string svg = cut_svg(load, course.roast, course.roast.cuts, units);
        EXPECT_TRUE(test::is_well_formed(svg));
        EXPECT_EQ(test::lost_words(svg, 520), "");
        EXPECT_THAT(svg, AllOf(HasSubstr("goose, after 1 h 32 min"), HasSubstr("goose, after 3 h 4 min"),
                               HasSubstr("lengthwise, neck right, breast up"), HasSubstr("across")));
        EXPECT_THAT(svg, HasSubstr(units == UnitSystem::us ? "165 °F" : "74 °C"));
    }
    EXPECT_THAT(cut_svg(load, course.roast, {}, UnitSystem::metric), HasSubstr("No cut was taken."));
}

TEST_F(RoastPictures, ManyFineCutsStaySmall) {
    load.items = {test::cooked_item("hen <1>"), test::cooked_item("cock & hen"), test::cooked_item("capon")};
    course = test::sample_cook(load, 0.001);
    const std::string svg = cut_svg(load, course.roast, course.roast.cuts, UnitSystem::metric);
    EXPECT_TRUE(test::is_well_formed(svg));
    EXPECT_LT(svg.size(), 300'000U);
    EXPECT_THAT(svg, AllOf(HasSubstr("hen &lt;1&gt;, after"), Not(HasSubstr("<1>"))));
    const std::string skin = skin_svg(load, course, UnitSystem::metric);
    EXPECT_TRUE(test::is_well_formed(skin));
    EXPECT_EQ(test::lost_words(skin, 520), "");
    EXPECT_LT(skin.size(), 300'000U);
}

TEST_F(RoastPictures, SkinIsUnrolledByTheDial) {
    const HeatField field = skin_field(load.items[0], course.roast.skin_heat[0], {30, 24});
    // More at clock 90°, which is 12 o'clock: first and last row; least at 6 o'clock, in the middle.
    const std::size_t middle = 15;
    for (const std::size_t up : {0U, 23U}) EXPECT_GT(field.at(middle, up), 1.1) << up;
    EXPECT_LT(field.at(middle, 12), 0.9);
    // More toward the point, which is right.
    EXPECT_GT(field.at(25, 12), field.at(5, 12));
    for (const double share : field.values) EXPECT_TRUE(std::isfinite(share)) << "no square is passed over";
    double sum = 0;
    for (const double share : field.values) sum += share / double(field.values.size());
    EXPECT_NEAR(sum, 1, 0.05);
}

TEST_F(RoastPictures, TheHoursRunAgainstTheClockAngle) {
    // Hot only at clock 0°, which is 3 o'clock: a quarter up.
    SkinHeat heat;
    const TriangleMesh& mesh = load.items[0].body->body.parts.front().mesh;
    for (const Triangle& triangle : mesh.triangles) {
        const Vec3 at =
            load.items[0].pose *
            Vec3((mesh.corner(triangle, 0) + mesh.corner(triangle, 1) + mesh.corner(triangle, 2)) / 3);
        heat.j_m2.push_back(std::abs(std::atan2(at.z(), at.y())) < 0.3 ? 2 : 1);
    }
    const HeatField field = skin_field(load.items[0], heat, {30, 24});
    EXPECT_GT(field.at(15, 6), 1.5 * field.at(15, 18)) << "3 o'clock against 9 o'clock";
    EXPECT_GT(field.at(15, 6), 1.5 * field.at(15, 0)) << "3 o'clock against 12 o'clock";
}

TEST_F(RoastPictures, SkinWithoutHeatLeavesHoles) {
    SkinHeat heat = course.roast.skin_heat[0];
    heat.j_m2.assign(heat.j_m2.size(), nothing);
    heat.j_m2.front() = 5;
    const HeatField field = skin_field(load.items[0], heat, {30, 24});
    EXPECT_TRUE(
        std::any_of(field.values.begin(), field.values.end(), [](double v) { return std::isnan(v); }));
    EXPECT_TRUE(std::any_of(field.values.begin(), field.values.end(),
                            [](double v) { return std::abs(v - 1) < 1e-12; }));
}

TEST_F(RoastPictures, SkinTellsHowEvenAndWhereItBrowns) {
    const std::string svg = skin_svg(load, course, UnitSystem::metric);
    EXPECT_TRUE(test::is_well_formed(svg));
    EXPECT_EQ(test::lost_words(svg, 520), "");
    EXPECT_THAT(svg, AllOf(HasSubstr("goose: even by 83 %; in perfect balance 91 %"),
                           HasSubstr("browns first at 12 o'clock, 440 mm along the rod"),
                           HasSubstr("Round the rod"), HasSubstr("Along the rod")));
}

}  // namespace
}  // namespace evenspit
