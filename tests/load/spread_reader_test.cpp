// SPDX-License-Identifier: MIT
#include "load/spread_reader.h"

#include <numbers>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "load/toml_tree.h"
#include "units/error.h"

namespace evenspit {
namespace {

using ::testing::HasSubstr;

Spread read(const std::string& text) {
    const TomlNode root = parse_toml("[spread]\n" + text, "load.toml");
    Complaints complaints;
    TableReader reader(root, "", complaints);
    auto table = reader.table("spread");
    const Spread spread = read_spread(*table);
    complaints.throw_if_any("load.toml");
    return spread;
}

std::string refused(const std::string& text) {
    try {
        read(text);
    } catch (const InputError& error) {
        return error.what();
    }
    return "";
}

}  // namespace

TEST(SpreadReader, TakesEachKeyAndLeavesTheRestAsUsual) {
    const Spread usual;
    const Spread spread =
        read("rod_line = \"2 mm\"\nturn = \"10 deg\"\nmass = \"3 %\"\nbearing_strength = \"25 %\"\n");
    EXPECT_DOUBLE_EQ(spread.rod_line_m, 0.002);
    EXPECT_DOUBLE_EQ(spread.turn_rad, std::numbers::pi / 18);
    EXPECT_DOUBLE_EQ(spread.mass, 0.03);
    EXPECT_DOUBLE_EQ(spread.bearing_strength.value(), 0.25);
    EXPECT_EQ(spread.station_m, usual.station_m);
    EXPECT_EQ(usual.bearing_strength, std::nullopt);
}

TEST(SpreadReader, NoneIsNothingOff) {
    const Spread spread = read("none = true\n");
    EXPECT_EQ(spread.rod_line_m, 0);
    EXPECT_EQ(spread.friction, 0);
    EXPECT_EQ(spread.limb_loose, 0);
    EXPECT_EQ(spread.bearing_strength.value(), 0);
    EXPECT_THAT(refused("none = true\nmass = \"1 %\"\n"), HasSubstr("none = true beside mass"));
}

TEST(SpreadReader, RefusesWhatNobodyIsOffBy) {
    EXPECT_THAT(refused("rod_line = \"-1 mm\"\n"), HasSubstr("spread.rod_line"));
    EXPECT_THAT(refused("rod_line = \"4 m\"\n"), HasSubstr("at most 100 mm"));
    EXPECT_THAT(refused("mass = \"150 %\"\n"), HasSubstr("spread.mass"));
    EXPECT_THAT(refused("mass = \"100 g\"\n"), HasSubstr("spread.mass"));
    EXPECT_THAT(refused("rod_lines = \"4 mm\"\n"), HasSubstr("rod_line"));
}

}  // namespace evenspit
