// SPDX-License-Identifier: MIT
#include "load/spread_reader.h"

#include <numbers>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "load/load_fixture.h"
#include "load/wrong_keys.h"

namespace evenspit {
namespace {

using test::line_of;
using test::small_load;
using testing::HasSubstr;

constexpr double degree = std::numbers::pi / 180;

// Every figure of a spread, in the order of its struct.
std::vector<double> figures(const Spread& s) {
    return {s.rod_line_m,
            s.station_m,
            s.turn_rad,
            s.fork_station_m,
            s.fork_clock_rad,
            s.counterweight_station_m,
            s.counterweight_radius_m,
            s.counterweight_clock_rad,
            s.counterweight_mass,
            s.mass,
            s.centre_m,
            s.scan_scale,
            s.friction,
            s.motor,
            s.yield_strength,
            s.bearing_strength.value_or(-1),
            s.rod_measures_m,
            s.cooker_measures_m,
            s.limb_loose};
}

class SpreadReader : public test::LoadTest {
  protected:
    [[nodiscard]] Spread spread(const std::string& keys) const {
        return read(small_load + "\n[spread]\n" + keys).spread;
    }
};

TEST_F(SpreadReader, KeepsTheDefaultsOfWhatIsNotThere) {
    EXPECT_EQ(figures(read(small_load).spread), figures(Spread{}));
    EXPECT_EQ(figures(spread("")), figures(Spread{}));
    EXPECT_EQ(figures(spread("none = false")), figures(Spread{}));
    Spread wanted;
    wanted.station_m = 0.007;
    EXPECT_EQ(figures(spread("station = \"7 mm\"")), figures(wanted));
}

TEST_F(SpreadReader, ReadsEveryKeyInSi) {
    const std::vector<double> found = figures(spread(R"(rod_line = "1 mm"
station = "2 mm"
turn = "3 deg"
fork_station = "4 mm"
fork_clock = "5 deg"
counterweight_station = "6 mm"
counterweight_radius = "7 mm"
counterweight_clock = "8 deg"
counterweight_mass = "9 %"
mass = "10 %"
centre = "11 mm"
scan_scale = "12 %"
friction = "13 %"
motor = "14 %"
yield_strength = "15 %"
bearing_strength = "16 %"
rod_measures = "17 mm"
cooker_measures = "18 mm"
limb_loose = "19 %"
)"));
    const std::vector<double> wanted = {0.001,      0.002, 3 * degree, 0.004, 5 * degree, 0.006, 0.007,
                                        8 * degree, 0.09,  0.10,       0.011, 0.12,       0.13,  0.14,
                                        0.15,       0.16,  0.017,      0.018, 0.19};
    ASSERT_EQ(found.size(), wanted.size());
    for (std::size_t i = 0; i < wanted.size(); ++i) EXPECT_NEAR(found[i], wanted[i], 1e-15) << i;
}

TEST_F(SpreadReader, SwitchesEverythingOff) {
    const Spread none = spread("none = true");
    EXPECT_EQ(figures(none), std::vector<double>(19, 0.0));
    EXPECT_EQ(none.bearing_strength, 0.0);
}

TEST_F(SpreadReader, TakesWhatIsJustSensible) {
    EXPECT_DOUBLE_EQ(spread("rod_line = \"100 mm\"").rod_line_m, 0.1);
    EXPECT_DOUBLE_EQ(spread("turn = \"90 deg\"").turn_rad, 90 * degree);
    EXPECT_DOUBLE_EQ(spread("limb_loose = \"100 %\"").limb_loose, 1);
    EXPECT_EQ(spread("friction = \"0 %\"").friction, 0);
}

class SpreadTells : public test::LoadTest, public testing::WithParamInterface<test::WrongKeys> {};

TEST_P(SpreadTells, WhatIsWrongAndHowToMendIt) {
    const test::WrongKeys& wrong = GetParam();
    const std::string text = small_load + "\n[spread]\n" + wrong.keys + "\n";
    const std::vector<Complaint> told = complaints(text);
    ASSERT_EQ(told.size(), 1U) << (told.empty() ? "" : InputError(told).what());
    test::expect_told(told[0], "spread", wrong);
    const int header = line_of(text, "[spread]");
    EXPECT_EQ(told[0].spot.line, header + 1) << "the first key of the table";
}

INSTANTIATE_TEST_SUITE_P(
    SpreadReader, SpreadTells,
    testing::Values(
        test::WrongKeys{"negative_length", R"(rod_line = "-4 mm")", "rod_line", "'-4 mm'",
                        "a length not below zero", ""},
        test::WrongKeys{"negative_share", R"(friction = "-1 %")", "friction", "'-1 %'",
                        "a share in per cent not below", ""},
        test::WrongKeys{"wide_line", R"(rod_line = "101 mm")", "rod_line", "'101 mm'",
                        "a length of at most 100 mm", "one standard deviation"},
        test::WrongKeys{"wide_angle", R"(fork_clock = "120 deg")", "fork_clock", "'120 deg'",
                        "an angle of at most 90°", "one standard deviation"},
        test::WrongKeys{"wide_share", R"(bearing_strength = "130 %")", "bearing_strength", "'130 %'",
                        "a share in per cent of at most 100 %", "one standard deviation"},
        test::WrongKeys{"more_than_certain", R"(limb_loose = "101 %")", "limb_loose", "'101 %'",
                        "of at most 100 %", "the chance that a tie comes undone"},
        test::WrongKeys{"bare_number", "mass = 0.01", "mass", "'0.01', a number without a unit",
                        "a share in per cent", R"("1 %")"},
        test::WrongKeys{"length_for_a_share", R"(mass = "40 g")", "mass", "'40 g', a mass",
                        "a share in per cent", R"("1 %")"},
        test::WrongKeys{"share_for_a_length", R"(station = "1 %")", "station", "'1 %', a share in per cent",
                        "a length not below zero", R"("8 mm")"},
        test::WrongKeys{"unknown", R"(rodline = "4 mm")", "rodline", "an unknown key", "'rod_line'",
                        "did you mean 'rod_line'?"},
        test::WrongKeys{"none_beside_another", "none = true\nmass = \"1 %\"\nturn = \"1 deg\"", "none",
                        "none = true beside turn and mass", "none = true alone", "take it out"},
        test::WrongKeys{"none_is_no_flag", R"(none = "yes")", "none", "'yes'", "true or false", ""}),
    test::name_of);

// A share is written nowhere else.
TEST_F(SpreadReader, LeavesSharesToItself) {
    const std::vector<Complaint> told =
        complaints(test::with(small_load, "mass = \"3.6 kg\"", "mass = \"3 %\""));
    ASSERT_EQ(told.size(), 1U);
    EXPECT_THAT(told[0].found, HasSubstr("'3 %', a share in per cent"));
}

}  // namespace
}  // namespace evenspit
