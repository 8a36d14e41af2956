// SPDX-License-Identifier: MIT
// [[bracket]] and [[basket]] of a load file: read, edited, left out.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "load/load_change.h"
#include "load/load_edit.h"
#include "load/load_fixture.h"
#include "load/thing.h"

namespace evenspit {
namespace {

using test::small_load;
using test::with;
using testing::AllOf;
using testing::Contains;
using testing::ElementsAre;
using testing::Field;
using testing::HasSubstr;

const std::string bracket = R"(
[[bracket]]
at = "360 mm"
clock = "90 deg"
apart = "50 mm"
length = "140 mm"
diameter = "8 mm"
mass = "420 g"
)";
const std::string basket = R"(
[[basket]]
at = "520 mm"
length = "60 mm"
width = "180 mm"
height = "45 mm"
mass = "650 g"
)";

class BracketAndBasket : public test::LoadTest {};

TEST_F(BracketAndBasket, AreReadInSiBehindTheForks) {
    const Assembly load = read(small_load + basket + bracket);
    ASSERT_EQ(load.forks.size(), 3U);
    EXPECT_EQ(load.forks[0].kind, ForkKind::fork);
    const Fork& legs = load.forks[1];
    EXPECT_EQ(legs.kind, ForkKind::bracket);
    EXPECT_DOUBLE_EQ(legs.at_m, 0.36);
    ASSERT_EQ(legs.tines.size(), 2U);
    EXPECT_DOUBLE_EQ(legs.tines[0].radius_m, 0.025);
    EXPECT_DOUBLE_EQ(legs.tines[1].radius_m, -0.025);
    EXPECT_DOUBLE_EQ(legs.tines[1].length_m, 0.14);
    EXPECT_DOUBLE_EQ(legs.tines[1].diameter_m, 0.008);
    const Fork& cage = load.forks[2];
    EXPECT_EQ(cage.kind, ForkKind::basket);
    EXPECT_DOUBLE_EQ(cage.cage.width_m, 0.18);
    EXPECT_DOUBLE_EQ(cage.cage.height_m, 0.045);
    EXPECT_FALSE(cage.cage.round);
    EXPECT_EQ(fork_name(load.forks, 0), "fork 1");
    EXPECT_EQ(fork_name(load.forks, 1), "bracket 1");
    EXPECT_EQ(fork_name(load.forks, 2), "basket 1");
    EXPECT_EQ(thing_name({Thing::Kind::tine, 1, 1}, load), "leg 2 of bracket 1");
}

TEST_F(BracketAndBasket, ComeFromModelsAsForksDo) {
    const Assembly load = read(small_load + R"(
[[bracket]]
model = "spine-bracket"
at = "360 mm"
clock = "90 deg"
[[basket]]
model = "drum"
at = "520 mm"
contents = "1 kg"
)");
    EXPECT_DOUBLE_EQ(load.forks[1].tines[0].diameter_m, 0.008);
    EXPECT_TRUE(load.forks[2].cage.round);
    EXPECT_DOUBLE_EQ(load.forks[2].cage.contents_kg, 1);
    // A flat one's sizes in place of the drum's.
    const Assembly flat =
        read(small_load +
             "\n[[basket]]\nmodel = \"drum\"\nat = \"520 mm\"\nwidth = \"200 mm\"\nheight = \"50 mm\"\n");
    EXPECT_FALSE(flat.forks[1].cage.round);
}

TEST_F(BracketAndBasket, WhatIsWrongIsTold) {
    EXPECT_THAT(complaints(with(small_load + bracket, "apart = \"50 mm\"", "apart = \"8 mm\"")),
                ElementsAre(AllOf(Field(&Complaint::key, "bracket[1].apart"),
                                  Field(&Complaint::expected, HasSubstr("more than a leg is thick")))));
    EXPECT_THAT(complaints(small_load + basket + "diameter = \"180 mm\"\n"),
                ElementsAre(AllOf(Field(&Complaint::key, "basket[1].diameter"),
                                  Field(&Complaint::expected, "one of the two"))));
    const std::string no_height = with(small_load + basket, "height = \"45 mm\"\n", "");
    EXPECT_THAT(complaints(no_height), ElementsAre(Field(&Complaint::key, "basket[1].height")));
    EXPECT_THAT(complaints(with(no_height, "width = \"180 mm\"\nmass", "mass")),
                ElementsAre(AllOf(Field(&Complaint::key, "basket[1].width"),
                                  Field(&Complaint::mend, HasSubstr("diameter = ")))));
    EXPECT_THAT(complaints(small_load +
                           "\n[[bracket]]\nmodel = \"spine-bracked\"\nat = \"360 mm\"\nclock = \"90 deg\"\n"),
                Contains(Field(&Complaint::mend, HasSubstr("spine-bracket"))));
}

TEST_F(BracketAndBasket, LoosePiecesNeedNoItem) {
    const std::size_t from = small_load.find("[[item]]"), to = small_load.find("[[fork]]");
    const std::string none = std::string(small_load).erase(from, to - from);
    EXPECT_THAT(complaints(none), Contains(Field(&Complaint::expected, "at least one item")));
    const std::string bare = with(none, "pull = { core = \"162 degF\" }\n", "");
    EXPECT_THAT(complaints(bare + basket + "contents = \"300 g\"\n"), testing::IsEmpty());
}

TEST_F(BracketAndBasket, AreEditedWhereTheyStand) {
    const std::string text = small_load + basket + bracket;
    const Assembly before = read(text);
    Assembly after = before;
    after.forks[1].at_m = 0.37;
    after.forks[1].clock_rad = 0;
    after.forks[2].at_m = 0.53;
    const std::string edited = edited_load(text, before, after);
    EXPECT_THAT(edited, HasSubstr("[[bracket]]\nat = \"370 mm\"\nclock = \"0 deg\""));
    EXPECT_THAT(edited, HasSubstr("[[basket]]\nat = \"530 mm\""));
    EXPECT_THAT(edited, HasSubstr("at = \"190 mm\""));
}

TEST_F(BracketAndBasket, GoWithTheItemThatStaysOff) {
    const std::string text = small_load +
                             "\n[[item]]\nshape = \"chicken\"\nmass = \"1.5 kg\"\nat = \"500 mm\"\n" +
                             basket + bracket;
    const std::string left =
        changed_load(text, "load.toml", {{.kind = LoadChange::Kind::leave_out, .item = 0, .forks = {0, 1}}},
                     test::models_folder());
    EXPECT_THAT(left, HasSubstr("# [[bracket]]"));
    EXPECT_THAT(left, HasSubstr("# [[fork]]"));
    EXPECT_THAT(left, HasSubstr("\n[[basket]]"));
}

}  // namespace
}  // namespace evenspit
