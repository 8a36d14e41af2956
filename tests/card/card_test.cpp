// SPDX-License-Identifier: MIT
// What a card says.
#include "card/card.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "card/card_loads.h"
#include "files/whole_file.h"
#include "report/chance_words.h"
#include "report/finding_words.h"
#include "report/report.h"
#include "report/schedule_words.h"

namespace evenspit::card {
namespace {

using test::CardedLoad;
using testing::Contains;
using testing::HasSubstr;
using testing::Not;

const CardSection& section(const Card& card, std::string_view heading) {
    static const CardSection none{"none"};
    for (const CardSection& one : card.sections) {
        if (one.heading.starts_with(heading)) return one;
    }
    return none;
}

std::string words(const CardSection& section) {
    std::string all;
    for (const CardStep& step : section.steps) all += step.when + " " + step.what + "\n";
    for (const std::string& note : section.notes) all += note + "\n";
    return all;
}

TEST(Card, ItsVerdictIsThatOfACheck) {
    CardedLoad carded = test::carded_sample("leg-of-lamb.toml");
    EXPECT_EQ(carded.card().verdict_words, verdict_sentence(carded.analysis.verdict));
    carded.analysis.mounted =
        Mounted{.chance = {.ready = 0.71, .care = 0.27, .stop = 0.02, .mountings = 100}};
    EXPECT_EQ(carded.card().verdict_words, "Ready in 71 of 100 mountings, stop in 2. " +
                                               std::string(verdict_sentence(carded.analysis.verdict)));
}

TEST(Card, FindingsAreToldAsCheckTellsThem) {
    const CardedLoad carded = test::carded_sample("everything-wrong.toml");
    std::size_t told = 0;
    const Card card = carded.card();
    for (const Finding& finding : carded.analysis.findings) {
        if (finding.level == Level::ready) continue;
        ++told;
        EXPECT_THAT(words(section(card, "Fix first")),
                    HasSubstr(finding_text(finding, carded.load, UnitSystem::metric)));
    }
    EXPECT_EQ(section(card, "Fix first").steps.size(), told);
    EXPECT_GT(told, 5U);
}

TEST(Card, ThingsGoOverThePointInTheirOrderAlongTheRod) {
    const Card card = test::carded_sample("three-chickens.toml").card();
    const std::string all = words(section(card, "Put it on the rod"));
    std::size_t at = 0;
    for (const char* next :
         {"Fork 1: hub at 128 mm from the square end, tines toward the point, turned as on the clock face.",
          "first chicken", "Fork 2: hub at 328 mm", "Fork 3: hub at 373 mm", "second chicken", "Fork 4",
          "Fork 5", "third chicken", "Fork 6"}) {
        const std::size_t found = all.find(next, at);
        ASSERT_NE(found, std::string::npos) << next << " after " << all.substr(at);
        at = found;
    }
}

TEST(Card, TimesAreThoseOfTheSchedule) {
    const CardedLoad carded = test::carded_sample("harvest-turkey.toml");
    ASSERT_TRUE(carded.schedule);
    const Card card = carded.card();
    EXPECT_TRUE(card.by_clock);
    std::vector<std::string> told;
    for (const CardStep& step : section(card, "Cook").steps) told.push_back(step.when + " " + step.what);
    for (const ToldStep& step : schedule_words(*carded.schedule, carded.load, UnitSystem::metric)) {
        // It rests on the next list, and how to put it on the rod stands before.
        if (step.when != "then" && !step.what.starts_with("Put it on the rod")) {
            EXPECT_THAT(told, Contains(step.when + " " + step.what));
        }
    }
    EXPECT_THAT(words(section(card, "Cook")), HasSubstr("to be served at 18:30"));
    for (const CardStep& step : section(card, "Cook").steps) EXPECT_TRUE(step.at_s);
    EXPECT_THAT(words(section(card, "Take it down")), HasSubstr("Let it rest 20 min on the rod."));
}

TEST(Card, WithoutACookTheSameStepsStandWithoutTimes) {
    // The harvest turkey, with no word of how hot the cooker is.
    std::string text =
        read_whole_file(std::filesystem::path(EVENSPIT_SOURCE_DIR) / "samples/harvest-turkey.toml");
    const std::string heat = "cooker_temperature = \"300 degF\"\n";
    ASSERT_NE(text.find(heat), std::string::npos);
    text.erase(text.find(heat), heat.size());
    const std::filesystem::path file = std::filesystem::path(testing::TempDir()) / "without-heat.toml";
    write_whole_file(file, text);
    const CardedLoad carded = test::carded(file);
    std::filesystem::remove(file);
    ASSERT_FALSE(carded.schedule);
    const Card card = carded.card();
    EXPECT_FALSE(card.by_clock);
    const CardSection& cook = section(card, "Cook");
    for (const CardStep& step : cook.steps) {
        EXPECT_EQ(step.when, "");
        EXPECT_FALSE(step.at_s);
    }
    EXPECT_THAT(words(cook), HasSubstr("Light the fire."));
    EXPECT_THAT(words(cook), HasSubstr("Stop the motor and measure in the thickest part of the breast"));
    EXPECT_THAT(words(cook), HasSubstr("72 °C")) << "where to pull them";
}

TEST(Card, TakingDownGoesFromTheMotorToTheRod) {
    const std::string all = words(section(test::carded_sample("harvest-turkey.toml").card(), "Take it down"));
    std::size_t at = 0;
    for (const char* next : {"Motor off", "rest", "Forks out first", "slit", "Rod last"}) {
        const std::size_t found = all.find(next, at);
        ASSERT_NE(found, std::string::npos) << next;
        at = found;
    }
}

TEST(Card, CautionsAreThoseThatApply) {
    CardedLoad carded = test::carded_sample("harvest-turkey.toml");
    std::string care = words(section(carded.card(), "Take care"));
    EXPECT_THAT(care, HasSubstr("74 °C (165 °F)"));
    EXPECT_THAT(care, HasSubstr("only outdoors"));
    EXPECT_THAT(care, HasSubstr("giblets"));
    EXPECT_THAT(care, Not(HasSubstr("flies off")));
    EXPECT_THAT(care, Not(HasSubstr("Gas:")));
    EXPECT_THAT(care, Not(HasSubstr("Two people")));
    carded.load.counterweights.push_back({.at_m = 0.1, .mass_kg = 6, .radius_m = 0.05, .diameter_m = 0.04});
    carded.load.cook->fire.fuel = FuelKind::gas;
    care = words(section(carded.card(), "Take care"));
    EXPECT_THAT(care, HasSubstr("flies off"));
    EXPECT_THAT(care, HasSubstr("Gas:"));
    EXPECT_THAT(care, HasSubstr("Two people"));
    const std::string lamb = words(section(test::carded_sample("leg-of-lamb.toml").card(), "Take care"));
    EXPECT_THAT(lamb, Not(HasSubstr("Poultry")));
    EXPECT_THAT(lamb, Not(HasSubstr("giblets")));
}

TEST(Card, CounterweightsComeAfterTheRollTest) {
    CardedLoad carded = test::carded_sample("harvest-turkey.toml");
    carded.load.counterweights.push_back(
        {.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.05, .clock_rad = 0, .diameter_m = 0.04});
    const Card card = carded.card();
    const CardSection& roll = section(card, "Roll it");
    EXPECT_EQ(
        roll.steps.back().what,
        "Clamp the counterweight of 300 g at 100 mm from the square end, its middle 50 mm from the rod's "
        "middle, at 3 o'clock (0°). Pull at it.");
    ASSERT_EQ(roll.blanks.size(), 4U);
    EXPECT_THAT(words(roll), HasSubstr("evenspit roll harvest-turkey.toml"));
}

TEST(Card, InInchesNothingIsMetric) {
    const Card card = test::carded_sample("harvest-turkey.toml").card(UnitSystem::us);
    for (const CardSection& one : card.sections) {
        EXPECT_THAT(words(one), Not(HasSubstr(" mm"))) << one.heading;
        EXPECT_THAT(words(one), Not(HasSubstr("°C"))) << one.heading;
    }
    EXPECT_EQ(section(card, "Roll it").blanks[1].after, "oz");
}

TEST(Card, TextsOfAFileAreMadePrintable) {
    CardedLoad carded = test::carded_sample("harvest-turkey.toml");
    carded.load.title = "Bell\a and \x1b[31mred";
    carded.load.items[0].name = "tur\nkey";
    const Card card = carded.card();
    for (const CardSection& one : card.sections) {
        for (const char c : words(one) + card.title) {
            if (c == '\n') continue;
            ASSERT_GE(static_cast<unsigned char>(c), 0x20) << one.heading;
        }
    }
    carded.load.title = "";
    EXPECT_EQ(carded.card().title, "harvest-turkey.toml");
}

TEST(Card, TheDialTellsTinesAsTheClockWordsDo) {
    const Card card = test::carded_sample("three-chickens.toml").card();
    EXPECT_THAT(card.dial, Contains("first chicken: breast at 12 o'clock"));
    EXPECT_THAT(card.dial, Contains("second chicken: breast at 8 o'clock"));
    EXPECT_EQ(card.dial.size(), 9U);
    const Card turkey = test::carded_sample("harvest-turkey.toml").card();
    EXPECT_THAT(turkey.dial, Contains("fork 2: tines at 3 o'clock and 9 o'clock"));
}

}  // namespace
}  // namespace evenspit::card
