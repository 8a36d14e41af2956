// SPDX-License-Identifier: MIT
#include <cmath>
#include <limits>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "report/report.h"
#include "report/sample_result.h"
#include "report/tool.h"

namespace evenspit {
namespace {

using nlohmann::json;
using test::sample_analysis;
using test::sample_assembly;
using testing::ElementsAre;
using testing::UnorderedElementsAreArray;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

json reported(const Assembly& assembly, const Analysis& analysis) {
    return json::parse(json_report(assembly, analysis));
}

json reported(const Analysis& analysis) {
    return reported(sample_assembly(), analysis);
}

std::vector<std::string> keys_of(const json& object) {
    std::vector<std::string> keys;
    for (const auto& [key, value] : object.items()) keys.push_back(key);
    return keys;
}

bool holds_null(const json& value) {
    if (value.is_null()) return true;
    return value.is_structured() && std::any_of(value.begin(), value.end(), holds_null);
}

TEST(JsonReport, NamesToolLoadAndVerdict) {
    const json result = reported(sample_analysis());
    EXPECT_EQ(result["tool"]["name"], "evenspit");
    EXPECT_EQ(result["tool"]["version"], std::string(tool_version()));
    EXPECT_EQ(result["load"]["title"], "Goose for the rowing club supper");
    EXPECT_EQ(result["load"]["file"], "goose.toml");
    EXPECT_EQ(result["verdict"], "stop");
    EXPECT_THAT(keys_of(result),
                UnorderedElementsAreArray({"tool", "load", "verdict", "findings", "items", "balance",
                                           "turning", "rod", "forks", "grip", "clearance"}));
}

TEST(JsonReport, VersionIsThreeNumbers) {
    EXPECT_THAT(std::string(tool_version()), testing::MatchesRegex("[0-9]+\\.[0-9]+\\.[0-9]+"));
}

TEST(JsonReport, EachLevelHasItsWord) {
    Analysis analysis = sample_analysis();
    analysis.verdict = Level::ready;
    EXPECT_EQ(reported(analysis)["verdict"], "ready");
    analysis.verdict = Level::care;
    EXPECT_EQ(reported(analysis)["verdict"], "care");
}

TEST(JsonReport, FindingsKeepOrderAndLeaveOutWhatHasNoValue) {
    const json findings = reported(sample_analysis())["findings"];
    ASSERT_EQ(findings.size(), 5u);
    EXPECT_EQ(findings[0],
              json({{"level", "stop"},
                    {"code", "gap"},
                    {"topic", "clearance"},
                    {"message",
                     "fork 2 strikes drip tray at 500 mm, by 6 mm. Set it at another station, or "
                     "take one with narrower tines."},
                    {"about", {{"surface", "drip tray"}}},
                    {"value", -0.006},
                    {"limit", 0.0},
                    {"unit", "m"}}));
    EXPECT_EQ(findings[1]["unit"], "N m");
    EXPECT_FALSE(findings[1].contains("about"));
    EXPECT_THAT(keys_of(findings[4]),
                UnorderedElementsAreArray({"level", "code", "topic", "message", "about"}));
}

TEST(JsonReport, FindingsNameWhatTheyAreAboutFromOne) {
    Analysis analysis = sample_analysis();
    analysis.findings = {
        {.code = Code::tine_in_bone, .about = {Thing::Kind::tine, 1, 0}, .spot = Spot{}, .value = 0.004},
        {.code = Code::hub_in_meat,
         .about = {Thing::Kind::fork, 0},
         .other = {Thing::Kind::item, 0},
         .spot = Spot{},
         .value = 0.01}};
    const json findings = reported(analysis)["findings"];
    EXPECT_EQ(findings[0]["about"], json({{"fork", 2}, {"tine", 1}}));
    EXPECT_EQ(findings[1]["about"], json({{"fork", 1}}));
    EXPECT_EQ(findings[1]["with"], json({{"item", 1}}));
}

TEST(JsonReport, ItemsCarryMomentsInTheItemFrame) {
    const json item = reported(sample_analysis())["items"][0];
    EXPECT_EQ(item["name"], "goose");
    EXPECT_EQ(item["mass_kg"], 4.6);
    EXPECT_EQ(item["volume_m3"], 0.004);
    EXPECT_EQ(item["density_kg_m3"], 4.6 / 0.004);
    EXPECT_EQ(item["centre_of_mass_m"], json({0.0125, 0.0, -0.004}));
    EXPECT_EQ(item["mass_model"], "scale_weight");
    // Second moments 0.06, 0.02, 0.015 along x, y, z: the inertia about an axis is the sum of the other two.
    const json& inertia = item["inertia_kg_m2"];
    ASSERT_EQ(inertia.size(), 3u);
    EXPECT_DOUBLE_EQ(inertia[0][0], 0.035);
    EXPECT_DOUBLE_EQ(inertia[1][1], 0.075);
    EXPECT_DOUBLE_EQ(inertia[2][2], 0.08);
    EXPECT_EQ(inertia[0][1], 0.0);
}

TEST(JsonReport, BalanceCarriesEveryFigureUnchanged) {
    const json balance = reported(sample_analysis())["balance"];
    EXPECT_EQ(balance["mass_kg"], 5.5);
    EXPECT_EQ(balance["unbalance_kg_m"], json({0.03, -0.04}));
    EXPECT_EQ(balance["unbalance_size_kg_m"], 0.05);
    EXPECT_NEAR(balance["heavy_side_deg"], 306.8698976458440, 1e-10);
    EXPECT_EQ(balance["gravity_torque_peak_n_m"], 0.49);
    EXPECT_EQ(balance["friction_torque_n_m"], 0.06);
    EXPECT_EQ(balance["motor_torque_peak_n_m"], 0.55);
    EXPECT_EQ(balance["rated_torque_n_m"], 2.5);
    EXPECT_EQ(balance["motor_use"], 0.22);
    EXPECT_EQ(balance["centrifugal_over_weight"], 9.1e-5);
    const auto expected = test::sample_balance().curve;
    ASSERT_EQ(balance["curve"].size(), expected.size());
    EXPECT_EQ(balance["curve"][37][0], 37.0);
    EXPECT_EQ(balance["curve"][37][1], expected[37][1]);
}

TEST(JsonReport, HeavySideStaysBelowAFullTurn) {
    Analysis analysis = sample_analysis();
    const auto heavy_side = [&](double rad) {
        analysis.balance.heavy_side_rad = rad;
        return reported(analysis)["balance"]["heavy_side_deg"].get<double>();
    };
    EXPECT_EQ(heavy_side(0), 0.0);
    EXPECT_EQ(heavy_side(-1e-18), 0.0);
    EXPECT_EQ(heavy_side(2 * std::numbers::pi), 0.0);
    EXPECT_DOUBLE_EQ(heavy_side(-std::numbers::pi / 2), 270.0);
    const double just_below = heavy_side(std::nextafter(2 * std::numbers::pi, 0.0));
    EXPECT_LT(just_below, 360.0);
    EXPECT_GE(just_below, 0.0);
}

TEST(JsonReport, NoHeavySideWithoutUnbalance) {
    Analysis analysis = sample_analysis();
    analysis.balance.unbalance_kg_m.setZero();
    analysis.balance.unbalance_kg_m_size = 0;
    const json balance = reported(analysis)["balance"];
    EXPECT_FALSE(balance.contains("heavy_side_deg"));
    EXPECT_EQ(balance["unbalance_size_kg_m"], 0.0);
}

TEST(JsonReport, TurningRodForksGripAndClearance) {
    const json result = reported(sample_analysis());
    EXPECT_EQ(result["turning"], json({{"speed_mean_rad_s", 0.3},
                                       {"speed_min_rad_s", 0.28},
                                       {"speed_max_rad_s", 0.32},
                                       {"irregularity", 0.1333},
                                       {"stalls", false},
                                       {"overruns", true},
                                       {"overrun_share", 0.4},
                                       {"pull_n_m", 0.43},
                                       {"play_deg", 0.0}}));
    const json& rod = result["rod"];
    EXPECT_EQ(rod["reactions_n"], json({28.0, 25.0}));
    EXPECT_EQ(rod["sag_max_m"], 0.0021);
    EXPECT_EQ(rod["sag_at_m"], 0.335);
    EXPECT_EQ(rod["stress_max_pa"], 72e6);
    EXPECT_EQ(rod["stress_at_m"], 0.41);
    EXPECT_EQ(rod["yield_use"], 0.36);

    ASSERT_EQ(result["forks"].size(), 2u);
    const json& fork = result["forks"][0];
    EXPECT_EQ(fork["at_m"], 0.19);
    EXPECT_EQ(fork["weight_share"], 0.55);
    EXPECT_EQ(fork["torque_capacity_n_m"], 0.9);
    EXPECT_EQ(fork["torque_capacity_raw_n_m"], 1.8);
    EXPECT_EQ(fork["tines"][0]["embedded_m"], 0.09);
    EXPECT_EQ(fork["tines"][0]["in_bone_m"], 0.005);
    EXPECT_EQ(fork["tines"][0]["in_cavity_m"], 0.01);
    EXPECT_EQ(fork["tines"][0]["cover_min_m"], 0.015);
    EXPECT_EQ(fork["tines"][0]["item"], "goose");
    EXPECT_THAT(keys_of(result["forks"][1]["tines"][0]),
                UnorderedElementsAreArray({"embedded_m", "in_flesh_m", "in_bone_m", "in_cavity_m"}));

    EXPECT_EQ(result["grip"]["torque_capacity_n_m"], 0.9);
    EXPECT_EQ(result["grip"]["torque_use"], 0.5);
    EXPECT_EQ(result["grip"]["items"][0]["forks"], json::array({0}));

    const json& clearance = result["clearance"];
    EXPECT_EQ(clearance["gap_min_m"], -0.006);
    ASSERT_EQ(clearance["surfaces"].size(), 3u);
    EXPECT_EQ(clearance["surfaces"][0]["name"], "coal bed");
    EXPECT_EQ(clearance["surfaces"][0]["gap_m"], 0.041);
    EXPECT_EQ(clearance["surfaces"][0]["keep_m"], 0.05);
    EXPECT_EQ(clearance["surfaces"][0]["at_m"], 0.36);
    EXPECT_EQ(clearance["surfaces"][0]["part"], "goose");
    EXPECT_EQ(clearance["profile"], json({{0.2, 0.03}, {0.34, 0.12}, {0.5, 0.04}}));
}

TEST(JsonReport, UncertaintyOnlyWhenItWasWorkedOut) {
    Analysis analysis = sample_analysis();
    analysis.uncertainty = Uncertainty{0.6, 0.02, 500};
    EXPECT_EQ(reported(analysis)["uncertainty"],
              json({{"gravity_torque_p95_n_m", 0.6}, {"stall_probability", 0.02}, {"samples", 500}}));
    analysis.uncertainty->gravity_torque_p95_seen_n_m = 0.5;
    EXPECT_EQ(reported(analysis)["uncertainty"]["gravity_torque_p95_seen_n_m"], 0.5);
}

TEST(JsonReport, AbsentOptionsLeaveNoKey) {
    Analysis analysis = sample_analysis();
    analysis.turning = Turning{};
    analysis.turning.stalls = true;
    analysis.grip.torque_use.reset();
    analysis.grip.torque_capacity_n_m.reset();
    analysis.clearance = Clearance{};
    const json result = reported(analysis);
    EXPECT_THAT(keys_of(result["turning"]),
                UnorderedElementsAreArray({"stalls", "overruns", "overrun_share", "pull_n_m", "play_deg"}));
    EXPECT_THAT(keys_of(result["grip"]), ElementsAre("items"));
    EXPECT_THAT(keys_of(result["clearance"]), ElementsAre("surfaces"));
}

TEST(JsonReport, WhatIsNotFiniteIsAbsent) {
    Assembly assembly = sample_assembly();
    auto body = std::make_shared<body::PreparedBody>(*assembly.items[0].body);
    body->mass.centre.y() = nan;
    body->volume_m3 = 0;  // density becomes infinite
    assembly.items[0].body = body;
    Analysis analysis = sample_analysis();
    analysis.findings[0].value = nan;
    analysis.findings[1].value = nan;
    analysis.findings[1].limit.reset();
    analysis.balance.motor_use = std::numeric_limits<double>::infinity();
    analysis.balance.heavy_side_rad = nan;
    analysis.balance.unbalance_kg_m.x() = nan;
    analysis.balance.curve[5][1] = nan;
    analysis.turning.irregularity = nan;
    analysis.rod.sag_max_m = nan;
    analysis.rod.reactions_n[1] = -std::numeric_limits<double>::infinity();
    analysis.grip.forks[0].weight_share = nan;
    analysis.grip.forks[0].tines[0].cover_min_m = nan;
    analysis.clearance.surfaces[0].gap_m = nan;
    analysis.clearance.profile = {{0.1, nan}};

    const json result = reported(assembly, analysis);
    EXPECT_FALSE(holds_null(result));
    EXPECT_FALSE(result["items"][0].contains("centre_of_mass_m"));
    EXPECT_FALSE(result["items"][0].contains("density_kg_m3"));
    EXPECT_FALSE(result["findings"][0].contains("value"));
    EXPECT_TRUE(result["findings"][0].contains("limit"));
    EXPECT_FALSE(result["findings"][1].contains("unit"));
    for (const char* key : {"motor_use", "heavy_side_deg", "unbalance_kg_m"}) {
        EXPECT_FALSE(result["balance"].contains(key)) << key;
    }
    EXPECT_EQ(result["balance"]["curve"].size(), 359u);
    EXPECT_FALSE(result["turning"].contains("irregularity"));
    EXPECT_FALSE(result["rod"].contains("sag_max_m"));
    EXPECT_FALSE(result["rod"].contains("reactions_n"));
    EXPECT_FALSE(result["forks"][0].contains("weight_share"));
    EXPECT_FALSE(result["forks"][0]["tines"][0].contains("cover_min_m"));
    EXPECT_FALSE(result["clearance"]["surfaces"][0].contains("gap_m"));
    EXPECT_FALSE(result["clearance"].contains("profile"));
}

TEST(JsonReport, NamesWithStrayBytesStillMakeJson) {
    Assembly assembly = sample_assembly();
    assembly.title = "g\xF6ose \"one\"\n";
    EXPECT_EQ(reported(assembly, sample_analysis())["load"]["title"], "g\xEF\xBF\xBDose \"one\"\n");
}

TEST(JsonReport, ALoadWithoutItemsIsWholeToo) {
    Assembly assembly = sample_assembly();
    assembly.items.clear();
    Analysis analysis = sample_analysis();
    analysis.grip = Grip{};
    const json result = reported(assembly, analysis);
    EXPECT_EQ(result["items"], json::array());
    EXPECT_EQ(result["forks"], json::array());
}

}  // namespace
}  // namespace evenspit
