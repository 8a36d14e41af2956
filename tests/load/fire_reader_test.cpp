// SPDX-License-Identifier: MIT
#include "load/fire_reader.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "load/load_fixture.h"
#include "load/wrong_keys.h"

namespace evenspit {
namespace {

using test::LoadTest;
using test::small_load;
using test::with;
using test::WrongKeys;
using testing::HasSubstr;

std::string fire_keys(const std::string& keys) {
    return with(small_load, "serve = \"18:30\"", "serve = \"18:30\"\n" + keys);
}

class FireKeys : public LoadTest {};

TEST_F(FireKeys, AreReadInSi) {
    const Assembly assembly = read(fire_keys(R"(fuel = "briquettes"
fuel_mass = "1200 g"
coals = "both sides"
preheat = "350 degF"
vents = "left"
weather = "10 degC"
baste = { every = "20 min", from = "1 h 30 min", open = "45 s" })"));
    const CookFire& fire = assembly.cook.value().fire;
    EXPECT_EQ(fire.fuel, FuelKind::briquettes);
    EXPECT_DOUBLE_EQ(fire.mass_kg.value(), 1.2);
    EXPECT_EQ(fire.coals, CoalPlace::both_sides);
    EXPECT_DOUBLE_EQ(fire.preheat_k.value(), 809.67 / 1.8);
    EXPECT_TRUE(fire.vents_left);
    EXPECT_DOUBLE_EQ(fire.weather_k, 283.15);
    EXPECT_DOUBLE_EQ(fire.baste.value().every_s, 1200);
    EXPECT_DOUBLE_EQ(fire.baste->from_s.value(), 5400);
    EXPECT_DOUBLE_EQ(fire.baste->open_s, 45);
}

TEST_F(FireKeys, HaveDefaults) {
    const CookFire fire = read(small_load).cook.value().fire;
    EXPECT_EQ(fire.fuel, FuelKind::lump_charcoal);
    EXPECT_FALSE(fire.mass_kg);
    EXPECT_EQ(fire.coals, CoalPlace::as_drawn);
    EXPECT_FALSE(fire.preheat_k);
    EXPECT_FALSE(fire.vents_left);
    EXPECT_DOUBLE_EQ(fire.weather_k, 293.15);
    EXPECT_FALSE(fire.baste);
    const CookBasting basting = read(fire_keys(R"(baste = { every = "20 min" })")).cook->fire.baste.value();
    EXPECT_FALSE(basting.from_s);
    EXPECT_DOUBLE_EQ(basting.open_s, 30);
}

TEST_F(FireKeys, OfTheCookerWinOverItsModels) {
    const std::string model = with(small_load, "[cooker]\n", "[cooker]\nmodel = \"ceramic-46\"\n");
    EXPECT_EQ(read(model).cooker.wall, WallKind::ceramic);
    EXPECT_EQ(read(small_load).cooker.wall, WallKind::steel);
    const Cooker own =
        read(with(model, "\"ceramic-46\"\n",
                  "\"ceramic-46\"\nwall = \"insulated steel\"\nslot = [\"10 mm\", \"3 cm\"]\n"))
            .cooker;
    EXPECT_EQ(own.wall, WallKind::insulated_steel);
    EXPECT_DOUBLE_EQ(own.slot_m[0], 0.01);
    EXPECT_DOUBLE_EQ(own.slot_m[1], 0.03);
}

TEST_F(FireKeys, AskForABedWhereCoalsAreToLie) {
    const std::vector<Complaint> told = complaints(with(fire_keys("coals = \"back\""), "fire = true\n", ""));
    ASSERT_EQ(told.size(), 1u);
    EXPECT_EQ(told[0].key, "cook.coals");
    EXPECT_THAT(told[0].expected, HasSubstr("fire = true"));
}

TEST_F(FireKeys, OfTheCookersSlotAreNotBelowNothing) {
    const std::vector<Complaint> told =
        complaints(with(small_load, "[cooker]\n", "[cooker]\nslot = [\"-1 mm\", \"40 mm\"]\n"));
    ASSERT_EQ(told.size(), 1u);
    EXPECT_EQ(told[0].key, "cooker.slot");
    EXPECT_THAT(told[0].mend, HasSubstr("slot = ["));
}

class WrongFireKeys : public LoadTest, public testing::WithParamInterface<WrongKeys> {};

TEST_P(WrongFireKeys, AreTold) {
    const std::vector<Complaint> told = complaints(fire_keys(GetParam().keys));
    ASSERT_EQ(told.size(), 1u);
    test::expect_told(told[0], "cook", GetParam());
}

INSTANTIATE_TEST_SUITE_P(
    Each, WrongFireKeys,
    testing::Values(WrongKeys{"UnknownFuel", "fuel = \"coal\"", "fuel", "coal", "lump charcoal", ""},
                    WrongKeys{"BareMass", "fuel_mass = 2", "fuel_mass", "2", "mass", "\"2 kg\""},
                    WrongKeys{"NoMass", "fuel_mass = \"0 kg\"", "fuel_mass", "0 kg", "", ""},
                    WrongKeys{"MassOfGas", "fuel = \"gas\"\nfuel_mass = \"1 kg\"", "fuel_mass", "gas", "none",
                              "take it out"},
                    WrongKeys{"UnknownPlace", "coals = \"left\"", "coals", "left", "both sides", ""},
                    WrongKeys{"ColdPreheat", "preheat = \"250 degF\"", "preheat", "cooker_temperature",
                              "at least", "leave it out"},
                    WrongKeys{"UnknownVents", "vents = \"open\"", "vents", "open", "held", ""},
                    WrongKeys{"BasteWithoutEvery", "baste = { open = \"30 s\" }", "baste.every", "", "", ""},
                    WrongKeys{"BasteForEver", "baste = { every = \"1 min\", open = \"2 min\" }", "baste.open",
                              "never shut", "shorter", "baste = {"},
                    WrongKeys{"BasteTooOften", "baste = { every = \"20 s\" }", "baste.every", "never shut",
                              "shorter", "baste = {"},
                    WrongKeys{"BasteUnknown", "baste = { every = \"20 min\", butter = true }", "baste.butter",
                              "", "", ""}),
    test::name_of);

}  // namespace
}  // namespace evenspit
