// SPDX-License-Identifier: MIT
#include "load/roll_test_reader.h"

#include <numbers>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "load/arrangement.h"
#include "load/load_edit.h"
#include "load/load_fixture.h"
#include "load/wrong_keys.h"

namespace evenspit {
namespace {

using test::line_of;
using test::small_load;
using test::with;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

constexpr double degree = std::numbers::pi / 180;

class RollTestReader : public test::LoadTest {
  protected:
    [[nodiscard]] RollTest roll_test(const std::string& keys) const {
        return read(small_load + "\n[[roll_test]]\n" + keys).roll_tests.at(0);
    }
};

TEST_F(RollTestReader, ReadsEveryKey) {
    const RollTest test = roll_test(R"(down = "210 deg"
on = "rollers"
weight = "300 g"
radius = "80 mm"
clock = "30 deg"
counterweights = []
read = "3 deg"
)");
    EXPECT_NEAR(test.down_rad.value(), 210 * degree, 1e-12);
    EXPECT_EQ(test.on, RollsOn::rollers);
    ASSERT_TRUE(test.hung.has_value());
    EXPECT_DOUBLE_EQ(test.hung->mass_kg, 0.3);
    EXPECT_DOUBLE_EQ(test.hung->radius_m, 0.08);
    EXPECT_NEAR(test.hung->clock_rad, 30 * degree, 1e-12);
    EXPECT_THAT(test.counterweights, IsEmpty());
    EXPECT_NEAR(test.read_rad, 3 * degree, 1e-12);
    EXPECT_TRUE(test.counts);
}

TEST_F(RollTestReader, KeepsDefaults) {
    const RollTest test = roll_test("down = \"0 deg\"");
    EXPECT_EQ(test.on, RollsOn::bushings);
    EXPECT_FALSE(test.hung.has_value());
    EXPECT_THAT(test.counterweights, ElementsAre(0)) << "all that there are";
    EXPECT_NEAR(test.read_rad, 5 * degree, 1e-12);
    EXPECT_THAT(test.as_rolled, IsEmpty());
    EXPECT_THAT(read(small_load).roll_tests, IsEmpty());
}

TEST_F(RollTestReader, NoneIsALoadThatStaysAnywhere) {
    EXPECT_FALSE(roll_test("down = \"none\"").down_rad.has_value());
    EXPECT_EQ(roll_test("down = \"none\"\non = \"journals\"").on, RollsOn::journals);
}

TEST_F(RollTestReader, KeepsTheOrderOfSeveral) {
    const Assembly a =
        read(small_load + "\n[[roll_test]]\ndown = \"10 deg\"\n[[roll_test]]\ndown = \"none\"\n");
    ASSERT_THAT(a.roll_tests, SizeIs(2));
    EXPECT_TRUE(a.roll_tests[0].down_rad.has_value());
    EXPECT_FALSE(a.roll_tests[1].down_rad.has_value());
}

TEST_F(RollTestReader, AnEdgedRodRollsOnlyOnWhatIsRound) {
    const std::string bare = with(small_load, "width = \"8 mm\"", "width = \"8 mm\"\nbushing = false");
    const auto tells = [&](const std::string& text, const std::string& keys) {
        return complaints(text + "\n[[roll_test]]\ndown = \"none\"\n" + keys);
    };
    for (const char* const on : {"", "on = \"rollers\""}) {
        const std::vector<Complaint> told = tells(bare, on);
        ASSERT_THAT(told, SizeIs(1)) << on;
        EXPECT_EQ(told[0].key, "roll_test[1].on");
        EXPECT_THAT(told[0].mend, HasSubstr("a square rod without bushings locks on its flats"));
        EXPECT_THAT(told[0].mend, HasSubstr("on = \"bushings\""));
    }
    EXPECT_THAT(tells(bare, "on = \"bushings\""), IsEmpty()) << "slipped on for the test";
    EXPECT_THAT(tells(bare, "on = \"journals\""), IsEmpty());
    const std::string hexagon = with(bare, "section = \"square\"", "section = \"hexagon\"");
    EXPECT_THAT(tells(hexagon, "").at(0).mend, HasSubstr("a hexagonal rod"));
    const std::string round = with(bare, "section = \"square\"", "section = \"round\"");
    EXPECT_THAT(tells(round, ""), IsEmpty());
}

class RollTestTells : public test::LoadTest, public testing::WithParamInterface<test::WrongKeys> {};

TEST_P(RollTestTells, WhatIsWrongAndHowToMendIt) {
    const test::WrongKeys& wrong = GetParam();
    const std::string text = small_load + "\n[[roll_test]]\n" + wrong.keys + "\n";
    const std::vector<Complaint> told = complaints(text);
    ASSERT_EQ(told.size(), 1U) << (told.empty() ? "" : InputError(told).what());
    test::expect_told(told[0], "roll_test[1]", wrong);
    EXPECT_GE(told[0].spot.line, line_of(text, "[[roll_test]]"));
}

INSTANTIATE_TEST_SUITE_P(
    RollTestReader, RollTestTells,
    testing::Values(
        test::WrongKeys{"no_down", "on = \"rollers\"", "down", "nothing", "the clock that was at the bottom",
                        "down = \"none\""},
        test::WrongKeys{"bare_down", "down = 210", "down", "'210', a number without a unit", "an angle",
                        "deg"},
        test::WrongKeys{"down_in_length", "down = \"3 mm\"", "down", "'3 mm', a length", "an angle", ""},
        test::WrongKeys{"unknown_stand", "down = \"none\"\non = \"roller\"", "on", "'roller'", "bushings",
                        "did you mean \"rollers\"?"},
        test::WrongKeys{"weight_alone", "down = \"0 deg\"\nweight = \"300 g\"", "weight",
                        "weight without radius and clock", "weight, radius and clock",
                        "add radius and clock, or take out weight"},
        test::WrongKeys{"no_clock", "down = \"0 deg\"\nweight = \"300 g\"\nradius = \"80 mm\"", "weight",
                        "weight and radius without clock", "or none of them", "add clock"},
        test::WrongKeys{"no_weight", "down = \"0 deg\"\nradius = \"80 mm\"\nclock = \"3 deg\"", "radius",
                        "radius and clock without weight", "or none of them", "add weight"},
        test::WrongKeys{"weightless",
                        "down = \"0 deg\"\nweight = \"0 g\"\nradius = \"80 mm\"\nclock = \"3 deg\"", "weight",
                        "'0 g'", "a mass above zero", ""},
        test::WrongKeys{"negative_radius",
                        "down = \"0 deg\"\nweight = \"1 g\"\nradius = \"-80 mm\"\nclock = \"3 deg\"",
                        "radius", "'-80 mm'", "a length above zero", ""},
        test::WrongKeys{"no_such_weight", "down = \"none\"\ncounterweights = [2]", "counterweights[1]", "2",
                        "whole numbers from 1 to 1", "counterweights = [1]"},
        test::WrongKeys{"half_a_weight", "down = \"none\"\ncounterweights = [0.5]", "counterweights[1]",
                        "0.5", "whole numbers from 1 to 1", ""},
        test::WrongKeys{"weight_zero", "down = \"none\"\ncounterweights = [0]", "counterweights[1]", "0",
                        "from 1 to 1", ""},
        test::WrongKeys{"twice", "down = \"none\"\ncounterweights = [1, 1]", "counterweights[2]", "1",
                        "each once", ""},
        test::WrongKeys{"no_list", "down = \"none\"\ncounterweights = 1", "counterweights", "1",
                        "a list of whole numbers", "[] if none was"},
        test::WrongKeys{"blind", "down = \"none\"\nread = \"46 deg\"", "read", "46", "an angle of at most 45",
                        "one standard deviation"},
        test::WrongKeys{"negative_reading", "down = \"none\"\nread = \"-1 deg\"", "read", "'-1 deg'",
                        "not below zero", ""},
        test::WrongKeys{"marks", "down = \"none\"\nas_rolled = \"a\"", "as_rolled", "'a'", "a list of marks",
                        "take it out"},
        test::WrongKeys{"unknown", "down = \"none\"\nwieght = \"300 g\"", "wieght", "an unknown key",
                        "'weight'", "did you mean 'weight'?"}),
    test::name_of);

TEST_F(RollTestReader, TellsThatAnEmptyRodHasNoCounterweight) {
    std::string text = with(small_load,
                            "[[counterweight]]\nat = \"90 mm\"\nmass = \"300 g\"\nradius = \"70 mm\"\n"
                            "clock = \"210 deg\"\ndiameter = \"40 mm\"\n",
                            "");
    EXPECT_THAT(read(text + "\n[[roll_test]]\ndown = \"none\"\n").roll_tests[0].counterweights, IsEmpty());
    const std::vector<Complaint> told =
        complaints(text + "\n[[roll_test]]\ndown = \"none\"\ncounterweights = [1]\n");
    ASSERT_THAT(told, SizeIs(1));
    EXPECT_THAT(told[0].expected, HasSubstr("has no counterweight"));
}

TEST_F(RollTestReader, ReadsNothingOfATestThatIsNoTable) {
    EXPECT_THAT(complaints("roll_test = 3\n" + small_load), SizeIs(1));
    std::string many;
    for (int i = 0; i < 201; ++i) many += "[[roll_test]]\ndown = \"none\"\n";
    EXPECT_THAT(complaints(small_load + many), SizeIs(1));
}

// --- what was moved after a test ---

class MovedAfter : public RollTestReader {
  protected:
    /// The load with a test that notes what was on.
    [[nodiscard]] std::string noted(const std::string& keys = "") const {
        const Assembly a = read(small_load);
        Assembly after = a;
        RollTest test{.down_rad = 1.0, .counterweights = {0}};
        test.as_rolled = rolled_marks(a, test.counterweights);
        after.roll_tests.push_back(test);
        return edited_load(small_load, a, after) + keys;
    }
    /// The remark about a test that counts no more; "" where it counts.
    [[nodiscard]] std::string told(const std::string& text) const {
        const Assembly a = read(text);
        std::string words;
        for (const std::string& remark : a.remarks) {
            if (remark.find("Roll test") != std::string::npos) words += remark;
        }
        EXPECT_EQ(words.empty(), a.roll_tests.at(0).counts);
        EXPECT_EQ(was_rolled(a), words.empty());
        return words;
    }
};

TEST_F(MovedAfter, ATestCountsWhileNothingMoves) {
    EXPECT_EQ(told(noted()), "");
    EXPECT_EQ(told(with(noted(), "at = \"340 mm\"", "at = \"34 cm\"")), "")
        << "the same place in other words";
}

TEST_F(MovedAfter, WhateverMovesVoidsIt) {
    EXPECT_THAT(
        told(with(noted(), "at = \"340 mm\"", "at = \"341 mm\"")),
        HasSubstr("Roll test 1 does not count any more: roast was changed after it. Roll the load again."));
    EXPECT_THAT(told(with(noted(), "from = [\"4 mm\"", "from = [\"4.5 mm\"")), HasSubstr("roast was"));
    EXPECT_THAT(told(with(noted(), "mass = \"3.6 kg\"", "mass = \"3.8 kg\"")), HasSubstr("roast was"));
    EXPECT_THAT(told(with(noted(), "at = \"190 mm\"", "at = \"195 mm\"")), HasSubstr("fork 1 was"));
    EXPECT_THAT(told(with(noted(), "clock = \"210 deg\"", "clock = \"211 deg\"")),
                HasSubstr("counterweight 1 was"));
}

TEST_F(MovedAfter, WhatComesVoidsItUnlessItIsACounterweight) {
    EXPECT_THAT(
        told(
            noted("\n[[fork]]\nat = \"480 mm\"\npoints = \"drive\"\nmass = \"100 g\"\ntine = [ { clock = \"0 "
                  "deg\", radius = \"32 mm\", length = \"60 mm\", diameter = \"5 mm\" } ]\n")),
        HasSubstr("what is on the rod was changed"));
    EXPECT_EQ(
        told(noted("\n[[counterweight]]\nat = \"600 mm\"\nmass = \"100 g\"\nradius = \"30 mm\"\nclock = \"0 "
                   "deg\"\ndiameter = \"30 mm\"\n")),
        "");
}

// --- as a plan writes it ---

TEST_F(MovedAfter, ATestIsWrittenAsItWasRead) {
    const Assembly a = read(small_load);
    Assembly after = a;
    after.roll_tests = {{.down_rad = 210 * degree,
                         .on = RollsOn::journals,
                         .hung = HungWeight{0.3, 0.08, 30 * degree},
                         .counterweights = {0},
                         .read_rad = 0.1,
                         .as_rolled = rolled_marks(a, {0})},
                        {.counterweights = {}, .as_rolled = rolled_marks(a, {})}};
    const Assembly again = read(edited_load(small_load, a, after));
    EXPECT_EQ(again.roll_tests, after.roll_tests);
}

TEST_F(MovedAfter, AnEditThatMovesSomethingTakesTheTestOut) {
    const std::string text = noted();
    const Assembly a = read(text);
    Assembly moved = a;
    moved.items[0].seat.at_m += 0.01;
    const std::string edited = edited_load(text, a, moved);
    EXPECT_THAT(read(edited).roll_tests, IsEmpty());
    EXPECT_THAT(edited, HasSubstr("# [[roll_test]]")) << "it stays as a comment";
    Assembly lighter = a;
    lighter.counterweights.clear();
    EXPECT_THAT(read(edited_load(text, a, lighter)).roll_tests, IsEmpty());
}

TEST_F(MovedAfter, AnAddedWeightWasNotOn) {
    const std::string text = small_load + "\n[[roll_test]]\ndown = \"none\"\n";  // all, which is the first
    const Assembly a = read(text);
    Assembly more = a;
    more.counterweights.push_back(
        {.at_m = 0.6, .mass_kg = 0.2, .radius_m = 0.05, .clock_rad = 1, .diameter_m = 0.03});
    const Assembly again = read(edited_load(text, a, more));
    ASSERT_THAT(again.counterweights, SizeIs(2));
    EXPECT_THAT(again.roll_tests.at(0).counterweights, ElementsAre(0));
    EXPECT_TRUE(again.roll_tests.at(0).counts);
}

TEST_F(MovedAfter, ArrangementsKeepOnlyTestsOfWhatStays) {
    const Assembly a = read(noted());
    Arrangement places = arrangement_of(a);
    EXPECT_TRUE(with_arrangement(a, places).roll_tests[0].counts);
    places.counterweights.push_back(places.counterweights[0]);
    EXPECT_TRUE(with_arrangement(a, places).roll_tests[0].counts);
    places.forks[0].clock_rad += 0.1;
    EXPECT_FALSE(with_arrangement(a, places).roll_tests[0].counts);
}

}  // namespace
}  // namespace evenspit
