// SPDX-License-Identifier: MIT
#include "report/roast_charts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/roast_words.h"
#include "report/sample_cook.h"
#include "report/svg_text.h"

namespace evenspit {
namespace {

using test::cook_takes_s;
using ::testing::HasSubstr;

class RoastCharts : public ::testing::Test {
  protected:
    Assembly load = test::cooked_assembly();
    cook::CookCourse course = test::sample_cook(load);
};

TEST_F(RoastCharts, TemperaturesAreOnTheReadersScale) {
    const Chart metric = temperature_chart(load, course, UnitSystem::metric);
    const Chart us = temperature_chart(load, course, UnitSystem::us);
    for (const char* name : {"cooker", "breast", "thigh", "coldest", "deep <in> & out"}) {
        const Series *c = metric.find(name), *f = us.find(name);
        ASSERT_TRUE(c != nullptr && f != nullptr) << name;
        ASSERT_EQ(c->points.size(), f->points.size());
        for (std::size_t n = 0; n < c->points.size(); ++n)
            EXPECT_NEAR(f->points[n].y(), 32 + 1.8 * c->points[n].y(), 1e-9);
    }
    EXPECT_NEAR(metric.find("breast")->points.front().y(), 277 - 273.15, 1e-9);
    ASSERT_EQ(metric.limits.size(), 1U) << "all places share one rule";
    EXPECT_EQ(metric.limits[0].label, "safe 74 °C");
    EXPECT_EQ(us.limits[0].label, "safe 165 °F");
}

TEST_F(RoastCharts, PlacesAreFollowedIntoTheRestAndTheCookerIsNot) {
    const Chart chart = temperature_chart(load, course, UnitSystem::metric);
    EXPECT_DOUBLE_EQ(chart.find("breast")->points.back().x(), cook_takes_s + 1200);
    EXPECT_DOUBLE_EQ(chart.find("cooker")->points.back().x(), cook_takes_s);
    EXPECT_DOUBLE_EQ(chart.x.to, cook_takes_s + 1200);
    ASSERT_EQ(chart.fills.size(), 1U) << "when it may come off";
    EXPECT_DOUBLE_EQ(chart.fills[0].corners[0].x(), course.off_s->low);
}

TEST_F(RoastCharts, SeveralItemsAreToldByTheirColdestPlaces) {
    load.items = {test::cooked_item("hen"), test::cooked_item("cock")};
    const Chart chart = temperature_chart(load, test::sample_cook(load), UnitSystem::metric);
    EXPECT_NE(chart.find("hen coldest"), nullptr);
    EXPECT_NE(chart.find("cock coldest"), nullptr);
    EXPECT_EQ(chart.series.size(), 3U);
}

TEST_F(RoastCharts, WeightFallsFromWhatGoesInToWhatComesOff) {
    const Chart chart = weight_chart(load, course, UnitSystem::metric);
    const Series* goose = chart.find("goose");
    ASSERT_NE(goose, nullptr);
    EXPECT_DOUBLE_EQ(goose->points.front().y(), 4.6);
    EXPECT_NEAR(goose->points.back().y(), 3.5, 1e-9);
    EXPECT_LT(chart.y.from, 3.5);
    EXPECT_GT(chart.y.to, 4.6);
}

TEST_F(RoastCharts, UsesHaveTheirLimitsInSight) {
    Chart chart = use_chart(load, course);
    EXPECT_GT(chart.y.to, 1.1) << "the grip goes past its limit";
    ASSERT_NE(chart.find("motor"), nullptr);
    EXPECT_NEAR(chart.find("motor")->points.back().y(), 0.44, 1e-9);
    EXPECT_NEAR(chart.find("grip")->points.back().y(), 1.1, 1e-9) << "the worse of torque and tines";
    EXPECT_NEAR(chart.find("grip, tightened")->points.back().y(), 0.6, 1e-9);
    course.retighten.clear();
    EXPECT_EQ(use_chart(load, course).find("grip, tightened"), nullptr);
    for (cook::Along& along : course.along) along.torque_use = along.hold_use = {};
    EXPECT_EQ(use_chart(load, course).find("grip"), nullptr) << "nothing holds it";
}

TEST_F(RoastCharts, NoWordLiesOverAnother) {
    load.title = "A <goose> & \"more\", with a title that goes on and on until no sheet can hold it any more";
    for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
        const std::string svg = roast_svg(load, course, units);
        EXPECT_TRUE(test::is_well_formed(svg));
        EXPECT_EQ(test::lost_words(svg, 520), "");
        EXPECT_THAT(svg, HasSubstr("A &lt;goose&gt; &amp; &quot;more&quot;"));
        EXPECT_THAT(svg, HasSubstr("push in fork 1"));
        EXPECT_LT(svg.size(), 300'000U);
    }
}

TEST_F(RoastCharts, ACookThatDoesNotGetDoneIsDrawnToo) {
    course.off_s.reset();
    course.roast.off_s.reset();
    std::erase_if(course.roast.moments, [](const RoastMoment& moment) { return moment.resting; });
    const std::string svg = roast_svg(load, course, UnitSystem::metric);
    EXPECT_TRUE(test::is_well_formed(svg));
    EXPECT_THAT(svg, ::testing::Not(HasSubstr(">off<")));
}

}  // namespace
}  // namespace evenspit
