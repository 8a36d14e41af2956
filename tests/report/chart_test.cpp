// SPDX-License-Identifier: MIT
#include "report/chart.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace evenspit {
namespace {

TEST(ValueAt, RunsStraightAndStopsAtGaps) {
    const double nothing = std::numeric_limits<double>::quiet_NaN();
    const Series line{"now", {{0, 1}, {2, 3}, {2, 7}, {4, 7}, {nothing, nothing}, {5, 0}, {6, 2}}};
    EXPECT_DOUBLE_EQ(value_at(line, 1).value(), 2);
    EXPECT_DOUBLE_EQ(value_at(line, 3).value(), 7);
    EXPECT_DOUBLE_EQ(value_at(line, 5.5).value(), 1);
    EXPECT_FALSE(value_at(line, 4.5));
    EXPECT_FALSE(value_at(line, -1));
    EXPECT_FALSE(value_at({}, 0));
}

TEST(PlotOf, IsWhereLinesAreDrawn) {
    Chart chart;
    chart.series.push_back({"now", {{0, 0}, {1, 1}}});
    const Frame frame{100, 50, 400, 200};
    const Frame plot = plot_of(frame, 1.5);
    for (const Shape& shape : lay_out(chart, frame, svg_letters, 1.5)) {
        const auto* line = std::get_if<PictureLine>(&shape);
        if (line == nullptr || line->role != Role::now) continue;
        EXPECT_TRUE(line->points.front().isApprox(Vec2(plot.x, plot.bottom())));
        EXPECT_TRUE(line->points.back().isApprox(Vec2(plot.right(), plot.y)));
    }
    EXPECT_DOUBLE_EQ(at_share({-2, 6, {}}, 0.25), 0);
}

using ::testing::ElementsAre;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

std::vector<std::string> texts(const std::vector<Tick>& ticks) {
    std::vector<std::string> result;
    for (const Tick& tick : ticks) result.push_back(tick.text);
    return result;
}

TEST(NiceTicks, AreWholeMultiplesOfRoundSteps) {
    EXPECT_THAT(texts(nice_ticks(0, 1, 1, 4)), ElementsAre("0", "0.5", "1"));
    EXPECT_THAT(texts(nice_ticks(-0.13, 0.72, 1, 4)), ElementsAre("0", "0.5"));
    EXPECT_THAT(texts(nice_ticks(0, 0.7, 1e-3, 4)), ElementsAre("0", "200", "400", "600"));
    EXPECT_THAT(texts(nice_ticks(-0.3, 0.3, 1, 5)), ElementsAre("-0.2", "0", "0.2"));
}

TEST(NiceTicks, StandWhereTheirTextsSay) {
    for (const Tick& tick : nice_ticks(0.1, 0.9, 0.0254, 5)) {
        EXPECT_NEAR(tick.at, 0.0254 * std::stod(tick.text), 1e-12);
        EXPECT_GE(tick.at, 0.1 - 1e-12);
        EXPECT_LE(tick.at, 0.9 + 1e-12);
    }
}

TEST(NiceTicks, StepByOneTwoOrFiveAndNeverTellTheSameTwice) {
    for (const double size : {1e-12, 3e-9, 1.7e-6, 0.04, 0.999, 1.0, 7.3, 2500.0, 6e6, 8e7, 1e15}) {
        for (const double from : {0.0, -0.5 * size, 3.0, -1000.0, 1e5}) {
            for (const int pieces : {1, 3, 4, 9}) {
                const std::vector<Tick> ticks = nice_ticks(from, from + size, 1, pieces);
                const std::vector<std::string> words = texts(ticks);
                EXPECT_EQ(std::set<std::string>(words.begin(), words.end()).size(), words.size())
                    << from << " + " << size << " in " << pieces;
                EXPECT_GE(ticks.size(), size < 1e-12 * std::abs(from) ? 0U : 2U) << from << " + " << size;
                EXPECT_LE(ticks.size(), static_cast<std::size_t>(std::max(pieces + 1, 5)))
                    << from << " + " << size;
                if (ticks.size() < 2) continue;
                const double step = ticks[1].at - ticks[0].at;
                const double lead = step / std::pow(10, std::floor(std::log10(step) + 1e-3));
                // Far from 0 a step is known no better than the numbers it is a difference of.
                const double slack = 1e-9 + 1e-15 * std::abs(from) / step * 10;
                EXPECT_TRUE(std::abs(lead - 1) < slack || std::abs(lead - 2) < slack ||
                            std::abs(lead - 5) < slack)
                    << step << " for " << from << " + " << size;
            }
        }
    }
}

TEST(NiceTicks, AreAtLeastTwoWhereverTheRangeLies) {
    for (const double size : {1e-9, 0.3, 1.0, 1.9, 4.2, 8.04, 77.0, 1e9}) {
        for (int share = 0; share <= 100; ++share)
            EXPECT_GE(nice_ticks(-0.01 * share * size, (1 - 0.01 * share) * size, 1, 4).size(), 2U)
                << size << " with 0 at " << share << " %";
    }
}

TEST(NiceTicks, AreNoneWhereNumbersDoNotDiffer) {
    EXPECT_TRUE(nice_ticks(1, 1, 1, 4).empty());
    EXPECT_TRUE(nice_ticks(2, 1, 1, 4).empty());
    EXPECT_TRUE(nice_ticks(1, std::nextafter(1, 2), 1, 4).empty());
    EXPECT_TRUE(nice_ticks(nan, 1, 1, 4).empty());
    EXPECT_TRUE(nice_ticks(0, std::numeric_limits<double>::infinity(), 1, 4).empty());
    EXPECT_TRUE(nice_ticks(0, 1e-310, 1, 4).empty());
}

TEST(Axis, GrowsByFiniteValuesOnly) {
    Axis axis{0, 1, {}};
    axis.extend(nan);
    axis.extend(std::numeric_limits<double>::infinity());
    axis.extend(-2);
    axis.extend(3);
    EXPECT_EQ(axis.from, -2);
    EXPECT_EQ(axis.to, 3);
}

Vec2 letters(std::string_view text, Lettering lettering) {
    return svg_letters(text, lettering);
}

std::vector<PictureText> words_of(const Picture& picture) {
    std::vector<PictureText> result;
    for (const Shape& shape : picture) {
        if (const auto* text = std::get_if<PictureText>(&shape)) result.push_back(*text);
    }
    return result;
}

bool says(const Picture& picture, std::string_view text) {
    for (const PictureText& word : words_of(picture)) {
        if (word.text == text) return true;
    }
    return false;
}

void expect_apart(const Picture& picture, const Frame& frame) {
    const std::vector<PictureText> words = words_of(picture);
    for (std::size_t i = 0; i < words.size(); ++i) {
        EXPECT_GE(words[i].frame.y, frame.y) << words[i].text;
        EXPECT_LE(words[i].frame.bottom(), frame.bottom()) << words[i].text;
        for (std::size_t j = i + 1; j < words.size(); ++j) {
            EXPECT_FALSE(words[i].frame.overlaps(words[j].frame)) << words[i].text << " / " << words[j].text;
        }
    }
}

Chart crowded(int marks, double x) {
    Chart chart;
    chart.title = "Torque";
    chart.remark = "N m";
    chart.y.tick({}, 4);
    for (int i = 0; i <= 60; ++i) chart.x.ticks.push_back({i / 60.0, std::to_string(i * 1000)});
    for (int i = 0; i < marks; ++i)
        chart.marks.push_back({.at = {x, 0.5 + 0.01 * i}, .text = "mark " + std::to_string(i)});
    chart.limits = {{0.52, "care 0.52", Role::care}, {0.53, "stop 0.53", Role::stop}, {5, "out of sight"}};
    return chart;
}

TEST(ChartLayout, TellsTheUnitWhereTheWholeRemarkHasNoRoom) {
    Chart chart;
    chart.title = "Torque over a turn";
    chart.remark = "N m, rated 25 N m and more than that";
    chart.short_remark = "N m";
    const auto told = [&](double width) {
        std::string words;
        for (const PictureText& text : words_of(lay_out(chart, {0, 0, width, 150}, letters, 1)))
            words += text.text + "|";
        return words;
    };
    EXPECT_THAT(told(600), testing::HasSubstr("and more than that|"));
    EXPECT_THAT(told(240), testing::HasSubstr("|N m|"));
    EXPECT_THAT(told(240), testing::Not(testing::HasSubstr("more than that")));
}

TEST(ChartLayout, NeverLaysWordsOverOneAnother) {
    for (const double scale : {1.0, 2.0}) {
        for (const Frame& frame :
             {Frame{0, 0, 360, 150}, Frame{20, 400, 180, 90}, Frame{5, 5, 1000, 400}, Frame{0, 0, 90, 60}}) {
            for (const double x : {0.0, 0.5, 1.0}) {
                const MeasureLetters scaled = [scale](std::string_view text, Lettering lettering) {
                    return Vec2(scale * letters(text, lettering));
                };
                const Frame large{frame.x, frame.y, scale * frame.width, scale * frame.height};
                expect_apart(lay_out(crowded(5, x), large, scaled, scale), large);
            }
        }
    }
}

TEST(ChartLayout, LeavesRoomBetweenWordsOfOneLine) {
    // Marks so near to each other that their words would touch.
    for (double apart = 0.05; apart < 0.4; apart += 0.002) {
        Chart chart;
        for (const double x : {0.3, 0.3 + apart})
            chart.marks.push_back({.at = {x, 0.5}, .text = "push in fork 5", .anchor = 0.5});
        const std::vector<PictureText> words = words_of(lay_out(chart, {0, 0, 480, 150}, letters, 1));
        for (std::size_t i = 0; i < words.size(); ++i) {
            for (std::size_t j = 0; j < words.size(); ++j) {
                const Frame &a = words[i].frame, &b = words[j].frame;
                if (i != j && a.y == b.y && a.x <= b.x && words[i].text == words[j].text) {
                    EXPECT_GE(b.x - a.right(), 3.99) << apart;
                }
            }
        }
    }
}

TEST(ChartLayout, TellsTheFirstMarkAndWhatHasRoom) {
    const Picture picture = lay_out(crowded(3, 0.5), {0, 0, 600, 300}, letters);
    EXPECT_TRUE(says(picture, "mark 0"));
    EXPECT_TRUE(says(picture, "Torque"));
    EXPECT_TRUE(says(picture, "care 0.52"));
    EXPECT_TRUE(says(picture, "stop 0.53"));
    EXPECT_TRUE(says(picture, "0.5"));
    EXPECT_FALSE(says(picture, "out of sight"));
}

TEST(ChartLayout, KeepsLinesInsideAndCutsThemAtGaps) {
    Chart chart;
    chart.series = {{"now", {{-1, 0.2}, {0.25, 0.2}, {0.5, nan}, {0.75, 0.5}, {1, 5}}}};
    const Frame frame{0, 0, 300, 200};
    std::vector<PictureLine> lines;
    for (const Shape& shape : lay_out(chart, frame, letters)) {
        const auto* line = std::get_if<PictureLine>(&shape);
        if (line != nullptr && line->role == Role::now) lines.push_back(*line);
    }
    ASSERT_EQ(lines.size(), 2U);
    for (const PictureLine& line : lines) {
        for (const Vec2& p : line.points) {
            EXPECT_GE(p.x(), 46 - 1e-9);
            EXPECT_LE(p.x(), 288 + 1e-9);
            EXPECT_GE(p.y(), 24 - 1e-9);
            EXPECT_LE(p.y(), 178 + 1e-9);
        }
    }
    // A quarter of the plot's 242 pixels, at a fifth of its 154.
    EXPECT_NEAR(lines[0].points.back().x(), 46 + 242 / 4.0, 1e-9);
    EXPECT_NEAR(lines[0].points.back().y(), 178 - 154 / 5.0, 1e-9);
}

TEST(ChartLayout, TakesAChartWithNothingInIt) {
    Chart chart;
    chart.x = chart.y = {0, 0, {}};
    chart.series = {{"now", {}}, {"one", {{0, 0}}}};
    chart.marks = {{.at = {nan, 0}, .text = "nowhere"}};
    const Picture picture = lay_out(chart, {0, 0, 300, 200}, letters);
    EXPECT_FALSE(says(picture, "nowhere"));
    EXPECT_TRUE(lay_out(chart, {0, 0, 20, 10}, letters).empty());
}

BarChart bars_of(std::size_t groups) {
    BarChart chart{"Grip", "holds ", "key", "Nothing here.", {}};
    for (std::size_t g = 0; g < groups; ++g) {
        BarGroup group{"fork " + std::to_string(g + 1), "2 N m", {}};
        group.bars = {
            {"tine 1", 0.1, {{0.06, Filling::solid}, {0.04, Filling::hatched}}, "60 mm", Role::plain},
            {"tine 2", 0.05, {{0.05, Filling::hollow}}, "in bone", Role::care}};
        chart.groups.push_back(group);
    }
    return chart;
}

TEST(BarLayout, HasALineForEachBarOrForEachGroupWhereRoomIsScarce) {
    const Frame frame{0, 0, 320, 170};
    const Picture few = lay_out(bars_of(2), frame, letters);
    EXPECT_TRUE(says(few, "tine 2"));
    EXPECT_TRUE(says(few, "holds 2 N m"));
    EXPECT_TRUE(says(few, "60 mm"));
    expect_apart(few, frame);
    const Picture many = lay_out(bars_of(7), frame, letters);
    EXPECT_FALSE(says(many, "tine 2"));
    EXPECT_TRUE(says(many, "fork 7"));
    // What is wrong comes first.
    EXPECT_TRUE(says(many, "in bone"));
    EXPECT_FALSE(says(many, "2 N m"));
    expect_apart(many, frame);
    expect_apart(lay_out(bars_of(40), frame, letters), frame);
}

TEST(BarLayout, SaysWhenThereIsNoBar) {
    EXPECT_TRUE(says(lay_out(bars_of(0), {0, 0, 320, 170}, letters), "Nothing here."));
}

}  // namespace
}  // namespace evenspit
