// SPDX-License-Identifier: MIT
#include "report/roast_report.h"

#include <algorithm>
#include <limits>
#include <map>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "report/roast_words.h"
#include "report/sample_cook.h"
#include "report/split_table.h"
#include "report/text_layout.h"

namespace evenspit {
namespace {

using nlohmann::json;
using test::cook_minute;
using test::cook_takes_s;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

/// The words alone, wherever lines end.
std::string unwrapped(const std::string& text) {
    std::istringstream in(text);
    std::string all;
    for (std::string word; in >> word;) all += (all.empty() ? "" : " ") + word;
    return all;
}

class RoastReport : public ::testing::Test {
  protected:
    [[nodiscard]] std::string text(const TextOptions& options = {}) const {
        return roast_text(load, course, test::sample_schedule(load, course), options);
    }
    [[nodiscard]] json result() const {
        return json::parse(roast_json(load, course, test::sample_schedule(load, course)));
    }

    Assembly load = test::cooked_assembly();
    cook::CookCourse course = test::sample_cook(load);
};

TEST_F(RoastReport, TheAnswerComesFirst) {
    EXPECT_THAT(text(),
                StartsWith("CARE  Done about 3 h 5 min after it goes in; 9 of 10 such cooks take 2 h 35 "
                           "min\n      to 3 h 30 min.\n"));
    load.cook->serve_s = 18.5 * 3600;
    EXPECT_EQ(lines_of(text())[2], "Ready to carve between 17:25 and 18:20, to be served at 18:30.");
}

TEST_F(RoastReport, TellsHowHandsFare) {
    EXPECT_EQ(text().find("mountings"), std::string::npos);
    course.mounted.emplace().chance = {.ready = 0.43, .care = 0.55, .stop = 0.02, .mountings = 1024};
    EXPECT_THAT(unwrapped(text()),
                HasSubstr("Ready in 43 of 100 mountings, stop in 2. It can turn. Fix these first."));
    EXPECT_DOUBLE_EQ(result()["chance"]["ready"].get<double>(), 0.43);
}

TEST_F(RoastReport, WhatIsKnownToFiveMinutesHasNoRange) {
    course.off_s = cook::Range{cook_takes_s, cook_takes_s, cook_takes_s};
    EXPECT_EQ(done_text(load, course), "Done about 3 h 5 min after it goes in.");
    load.cook->duration_s = cook_takes_s;
    EXPECT_EQ(done_text(load, course), "It comes off after 3 h 4 min, as the load file has it.");
    course.off_s.reset();
    EXPECT_EQ(done_text(load, course), "Not done after 3 h 5 min on the fire.");
}

TEST_F(RoastReport, AnOpenEndIsTold) {
    EXPECT_FALSE(result()["roast"]["off_s"]["open"].get<bool>());
    course.off_s->open = true;
    EXPECT_EQ(
        done_text(load, course),
        "Done about 3 h 5 min after it goes in, rarely before 2 h 35 min. A slower fire may never get it "
        "done: add fuel in time.");
    EXPECT_TRUE(result()["roast"]["off_s"]["open"].get<bool>());
}

TEST_F(RoastReport, SectionsStandInTheOrderInWhichACookNeedsThem) {
    const std::string all = text();
    std::size_t at = 0;
    for (const char* heading :
         {"\nTo fix, worst first\n", "\nGood to know\n", "\nWhen to do what", "\nTemperatures",
          "\nWeight, motor", "\nWhat it loses", "\nHeat over the skin\n", "\nFire\n", "\nFor information\n",
          "\nTake care\n"}) {
        const std::size_t found = all.find(heading, at);
        ASSERT_NE(found, std::string::npos) << heading;
        at = found;
    }
}

TEST_F(RoastReport, NoLineIsWiderThanAsked) {
    load.items = {test::cooked_item("hen"), test::cooked_item("cock with a name that goes on")};
    course = test::sample_cook(load);
    load.cook->serve_s = 18.5 * 3600;
    for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
        for (const int width : {40, 60, 80, 100}) {
            for (const std::string& line : lines_of(text({.units = units, .width = width})))
                EXPECT_LE(display_width(line), width) << line;
        }
    }
}

TEST_F(RoastReport, FiguresAreInTheReadersUnits) {
    EXPECT_THAT(text(), Not(HasSubstr("°F\n")));
    EXPECT_THAT(text(), AllOf(HasSubstr("74 °C (165 °F)"), HasSubstr("4.6 kg")));
    const std::string us = text({.units = UnitSystem::us});
    EXPECT_THAT(us, AllOf(Not(HasSubstr("°C")), Not(HasSubstr(" kg")), Not(HasSubstr(" mm "))));
    EXPECT_THAT(us, AllOf(HasSubstr("10 lb 2 oz"), HasSubstr("165 °F")));
}

TEST_F(RoastReport, TheTableTellsEveryTwentyMinutesTheEndAndTheRest) {
    const std::vector<std::string> lines = lines_of(text());
    const auto head = std::find_if(lines.begin(), lines.end(), [](const std::string& line) {
        return line.find("after  cooker") != std::string::npos;
    });
    ASSERT_NE(head, lines.end());
    EXPECT_THAT(*(head + 1), HasSubstr("     0 min  119 °C      4 °C"));
    EXPECT_THAT(*(head + 2), HasSubstr("    20 min  141 °C     11 °C"));
    EXPECT_THAT(*(head + 10), HasSubstr(" 3 h 4 min  149 °C"));
    EXPECT_THAT(*(head + 11), HasSubstr("3 h 24 min    rest"));
}

TEST_F(RoastReport, WhatIsShortOfALimitIsNotToldAsReached) {
    for (RoastMoment& moment : course.roast.moments) moment.places_k[0] = 347.0;
    EXPECT_THAT(text(), AllOf(HasSubstr("73.85 °C"))) << "safe at 73.89 °C";
}

TEST_F(RoastReport, TellsWhatBecomesOfForksLeftAlone) {
    EXPECT_THAT(unwrapped(text()),
                AllOf(HasSubstr("the forks slip after about 3 h; tightened in time"),
                      HasSubstr("used to 60 % at most"), HasSubstr("push fork 1 in by 6 mm")));
    for (cook::Along& along : course.along) along.torque_use = along.hold_use = 0.3;
    EXPECT_THAT(text(), Not(HasSubstr("slip after")));
    course.retighten.clear();
    EXPECT_THAT(text(), Not(HasSubstr("tightened")));
    for (cook::Along& along : course.along) along.stalls = true;
    EXPECT_THAT(text(), HasSubstr("stalls"));
}

TEST_F(RoastReport, TellsLossesAndFire) {
    const std::string all = unwrapped(text());
    EXPECT_THAT(all, HasSubstr("goose 4.6 kg 3.5 kg 24 % 800 g 500 g 300 g"));
    EXPECT_THAT(all,
                AllOf(HasSubstr("2.1 kg of lump charcoal"), HasSubstr("55 min before the load goes in"),
                      HasSubstr("from 180 mm to 500 mm along the rod and 120 mm wide"),
                      HasSubstr("2 kW in the mean: 30 % into the load, 45 % through the walls, 20 % off with "
                                "the smoke and 5 % out of openings")));
    course.roast.fuel->through_wall_w = 0;
    EXPECT_THAT(unwrapped(text()),
                AllOf(Not(HasSubstr("through the walls")), HasSubstr("and 45 % into the cooker itself")));
    course.roast.fuel.reset();
    EXPECT_THAT(text(), Not(HasSubstr("\nFire\n"))) << "an oven";
}

TEST_F(RoastReport, GasIsNotLaid) {
    load.cook->fire.fuel = FuelKind::gas;
    EXPECT_THAT(text(),
                AllOf(HasSubstr("1.7 kg of gas"), Not(HasSubstr("lay  ")), Not(HasSubstr("bank it"))));
}

TEST_F(RoastReport, TheCautionsAreAlwaysThere) {
    course.findings.clear();
    course.verdict = Level::ready;
    const std::string all = unwrapped(text());
    EXPECT_THAT(all, StartsWith("READY "));
    for (const char* words : {"A thermometer decides", "Stop the motor before you measure", "carbon monoxide",
                              "local codes", "not validated for dry heat"})
        EXPECT_THAT(all, HasSubstr(words));
}

TEST_F(RoastReport, ACookThatDoesNotGetDoneHasNoTimeline) {
    course.off_s.reset();
    course.roast.off_s.reset();
    std::erase_if(course.roast.moments, [](const RoastMoment& moment) { return moment.resting; });
    EXPECT_THAT(text(),
                AllOf(StartsWith("CARE  Not done after 3 h 5 min"), Not(HasSubstr("When to do what"))));
    const json roast = result()["roast"];
    for (const char* key : {"done_s", "off_s", "schedule", "rest"}) EXPECT_FALSE(roast.contains(key)) << key;
}

TEST_F(RoastReport, NamesCannotCommandTheTerminal) {
    load.items[0].name = "goose\x1b[2J";
    load.title = "a\x07";
    for (RoastPlace& place : course.roast.places) {
        if (place.kind == PlaceKind::probe) place.name = "p\x1b[31m";
    }
    EXPECT_THAT(text(), AllOf(Not(HasSubstr("\x1b")), Not(HasSubstr("\x07"))));
}

TEST_F(RoastReport, JsonListsStandBesideTheTimes) {
    const json all = result();
    EXPECT_EQ(all["verdict"], "care");
    EXPECT_EQ(all["findings"].size(), 2U);
    EXPECT_EQ(all["findings"][0]["code"], "cool-cooker");
    const json& roast = all["roast"];
    const std::size_t moments = course.along.size();
    for (const char* key : {"times_s", "mass_kg", "gravity_torque_peak_n_m", "grip_torque_use", "motor_use",
                            "sag_m", "gap_m", "cooker_k", "unbalance_kg_m"})
        EXPECT_EQ(roast[key].size(), moments) << key;
    ASSERT_EQ(roast["probes"].size(), 1U);
    EXPECT_EQ(roast["probes"][0]["name"], "deep <in> & out");
    EXPECT_EQ(roast["probes"][0]["temperature_k"].size(), moments);
    ASSERT_EQ(roast["places"].size(), 4U);
    EXPECT_EQ(roast["places"][2]["kind"], "core");
    EXPECT_EQ(roast["places"][1]["pull_k"], 350.93);
    EXPECT_EQ(roast["places"][1]["rest_temperature_k"].size(), roast["rest"]["times_s"].size());
    EXPECT_EQ(roast["items"][0]["mass_kg"].size(), moments);
    EXPECT_EQ(roast["mass_kg"].back(), course.along.back().mass_kg);
    EXPECT_EQ(roast["done_s"], cook_takes_s);
    EXPECT_EQ(roast["off_s"]["low"], cook_takes_s - 25 * cook_minute);
    EXPECT_EQ(roast["retighten_s"], json::array({96 * cook_minute}));
    EXPECT_EQ(roast["retighten"][0]["fork"], 1) << "counted from 1, as everywhere";
    EXPECT_EQ(roast["exposure_evenness"], 0.834);
    EXPECT_EQ(roast["fuel"]["laid_kg"], 2.13);
}

TEST_F(RoastReport, JsonCountsTheScheduleFromWhenItGoesIn) {
    const json counted = result()["roast"];
    EXPECT_FALSE(counted.contains("goes_in_at_s"));
    load.cook->serve_s = 18.5 * 3600;
    const json clocked = result()["roast"];
    EXPECT_EQ(clocked["serve_at_s"], 18.5 * 3600);
    EXPECT_EQ(clocked["goes_in_at_s"], 14.5 * 3600);
    const auto step = [](const json& roast, const char* kind) {
        return *std::find_if(roast["schedule"].begin(), roast["schedule"].end(),
                             [kind](const json& s) { return s["kind"] == kind; });
    };
    for (const char* kind : {"light-fire", "load-on", "retighten", "take-off"})
        EXPECT_EQ(step(clocked, kind)["from_s"], step(counted, kind)["from_s"]) << kind;
    EXPECT_EQ(step(clocked, "load-on")["from_s"], 0);
    EXPECT_EQ(step(clocked, "retighten")["push_m"], 0.006);
}

TEST_F(RoastReport, WhatCouldNotBeComputedIsLeftOut) {
    course.along[3].torque_use.reset();
    course.along[2].gap_m.reset();
    course.roast.moments[4].places_k[3] = std::numeric_limits<double>::quiet_NaN();
    const std::string all = roast_json(load, course, {});
    EXPECT_THAT(all, AllOf(Not(HasSubstr("null")), Not(HasSubstr("nan"))));
    const json roast = json::parse(all)["roast"];
    EXPECT_FALSE(roast.contains("grip_torque_use"));
    EXPECT_FALSE(roast.contains("gap_m"));
    EXPECT_FALSE(roast["probes"][0].contains("temperature_k"));
    EXPECT_TRUE(roast["places"][0].contains("temperature_k"));
    EXPECT_THAT(roast_csv(load, course), Not(HasSubstr("nan")));
}

TEST_F(RoastReport, CsvRowsAreAsLongAsTheirHead) {
    load.items = {test::cooked_item("hen, \"the\" first"), test::cooked_item("cock")};
    course = test::sample_cook(load);
    std::size_t cells = 0;
    std::map<std::string, int> rows;
    for (const std::string& line : lines_of(roast_csv(load, course))) {
        const auto commas = static_cast<std::size_t>(std::count(line.begin(), line.end(), ','));
        const std::string curve = line.substr(0, line.find(','));
        if (curve == "curve") cells = commas;
        EXPECT_EQ(commas, cells) << line;
        ++rows[curve];
    }
    EXPECT_EQ(rows["curve"], 4);
    EXPECT_EQ(rows["heat"], static_cast<int>(course.roast.moments.size()));
    EXPECT_EQ(rows["turning"], static_cast<int>(course.along.size()));
    EXPECT_EQ(rows["round"], 48);
    EXPECT_EQ(rows["along"], 48);
    EXPECT_THAT(roast_csv(load, course),
                HasSubstr(",item2_breast_k,item2_thigh_k,item2_core_k,item2_probe1_k\n"));
}

TEST(SplitTable, PartsAreAboutAsWide) {
    std::vector<SplitColumn> columns{{{"t"}, {"0"}}};
    for (int n = 0; n < 7; ++n) columns.push_back({{"column" + std::to_string(n)}, {"1"}});
    Page page({.width = 62});
    put_split_table(page, columns);
    const std::vector<std::string> lines = lines_of(page.text());
    ASSERT_EQ(lines.size(), 5U);
    EXPECT_EQ(lines[0], "  t  column0  column1  column2  column3");
    EXPECT_EQ(lines[3], "  t  column4  column5  column6");
}

}  // namespace
}  // namespace evenspit
