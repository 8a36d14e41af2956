// SPDX-License-Identifier: MIT
// roll, run as the command line runs it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "app/sample_load.h"
#include "app/verb_runner.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using test::content_of;
using test::Ending;
using test::run_with_models;
using test::TemporaryFolder;
using test::write_sample_load;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

/// The sample roast: 2 kg, 4 mm off toward clock 0°, little friction, weights at hand.
fs::path easy_load(const TemporaryFolder& folder, const std::string& extra = "") {
    return write_sample_load(folder, {.friction_torque = "0.01 N m", .extra = R"(
[stock]
counterweights = [ { mass = "150 g", radius = ["30 mm", "110 mm"], diameter = "30 mm" } ]
)" + extra});
}

const std::vector<std::string> weighed = {"--down",   "350 deg", "--weight", "150 g",
                                          "--radius", "70 mm",   "--clock",  "180 deg"};

std::vector<std::string> roll(const fs::path& load, const std::vector<std::string>& more) {
    std::vector<std::string> words = {"roll", load.string()};
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

std::vector<std::string> with(std::vector<std::string> words, const std::vector<std::string>& more) {
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

TEST(RollVerb, TellsWhatTheTestSaysAndTrims) {
    const TemporaryFolder folder;
    const Ending end = run_with_models(roll(easy_load(folder), with(weighed, {"--json"})));
    ASSERT_EQ(end.status, computed) << end.err;
    const json j = json::parse(end.out);
    const json& r = j["roll"];
    EXPECT_NEAR(r["unbalance_kg_m"][0].get<double>(), 0.0105, 0.0015);
    EXPECT_NEAR(r["unbalance_kg_m"][1].get<double>(), 0, 0.002);
    EXPECT_GT(r["unbalance_sd_kg_m"][0].get<double>(), 0);
    EXPECT_LT(r["unbalance_sd_kg_m"][0].get<double>(), 0.002);
    const double side = r["heavy_side_deg"];
    EXPECT_TRUE(side < 12 || side > 348) << side;
    EXPECT_LT(r["heavy_side_sd_deg"].get<double>(), 15);
    EXPECT_GT(r["contradiction"].get<double>(), 0.05);
    EXPECT_LE(r["contradiction"].get<double>(), 1);
    ASSERT_EQ(r["counterweights"].size(), 1U);
    const json& weight = r["counterweights"][0];
    EXPECT_EQ(weight["mass_kg"], 0.15);
    EXPECT_NEAR(weight["radius_m"].get<double>(), 0.07, 0.01);
    EXPECT_NEAR(weight["clock_deg"].get<double>(), 180, 12);
    EXPECT_TRUE(weight.contains("at_m"));
    EXPECT_LT(r["after"]["gravity_torque_p95_n_m"], r["before"]["gravity_torque_p95_n_m"]);
    EXPECT_EQ(j["verdict"], r["after"]["verdict"]);
    EXPECT_EQ(j["load"]["title"], "Sample roast");
    EXPECT_TRUE(j.contains("balance")) << "the result of the trimmed load beside it";
}

TEST(RollVerb, BeginsWithWhatToMind) {
    const TemporaryFolder folder;
    const std::string text = run_with_models(roll(easy_load(folder), weighed)).out;
    EXPECT_THAT(
        text, StartsWith("Before you touch the rod: unplug the motor, and roll the load before the fire is"));
    for (const char* const words :
         {"Take the drive end out of the motor.", "point and the tines", "What the roll test says",
          "heavy side        3 o'clock", "strip of tape", "Clamp the 150 g", "Take the weight off",
          "Put the drive end back into the motor"})
        EXPECT_THAT(text, HasSubstr(words));
    // In the order in which hands do it.
    EXPECT_LT(text.find("Take the weight off"), text.find("Clamp the 150 g"));
    EXPECT_LT(text.find("Clamp the 150 g"), text.find("Roll it once more"));
    EXPECT_LT(text.find("Roll it once more"), text.find("Put the drive end back"));
    const std::string us = run_with_models(roll(easy_load(folder), with(weighed, {"--units", "us"}))).out;
    EXPECT_THAT(us, AllOf(HasSubstr(" oz"), Not(HasSubstr(" mm"))));
}

TEST(RollVerb, WithoutAWeightItTellsWhatToHang) {
    const TemporaryFolder folder;
    const Ending end = run_with_models(roll(easy_load(folder), {"--down", "10 deg"}));
    EXPECT_EQ(end.status, computed) << end.err;
    EXPECT_THAT(end.out, HasSubstr("hang 150 g at"));
}

TEST(RollVerb, TellsAContradiction) {
    const TemporaryFolder folder;
    const fs::path load = easy_load(folder);
    const std::vector<std::string> wrong = {"--down",   "180 deg", "--weight", "1 kg",
                                            "--radius", "100 mm",  "--clock",  "0 deg"};
    EXPECT_THAT(run_with_models(roll(load, wrong)).out, HasSubstr("contradicts the load file"));
    EXPECT_LT(json::parse(run_with_models(roll(load, with(wrong, {"--json"}))).out)["roll"]["contradiction"],
              1e-3);
}

TEST(RollVerb, WhatItWritesChecksToWhatItPromised) {
    const TemporaryFolder folder;
    const fs::path load = easy_load(folder), trimmed = folder / "trimmed.toml";
    const json promised =
        json::parse(run_with_models(roll(load, with(weighed, {"--json", "-o", trimmed.string()}))).out);
    const std::string text = content_of(trimmed);
    EXPECT_THAT(text, AllOf(HasSubstr("[[roll_test]]"), HasSubstr("down = \"350 deg\""),
                            HasSubstr("weight = \"150 g\""), HasSubstr("counterweights = []"),
                            HasSubstr("as_rolled = ["), HasSubstr("[[counterweight]]")));
    const json checked = json::parse(run_with_models({"check", trimmed.string(), "--json"}).out);
    EXPECT_EQ(promised["verdict"], checked["verdict"]);
    EXPECT_EQ(promised["balance"], checked["balance"]);
    EXPECT_EQ(promised["chance"], checked["chance"]);
    EXPECT_EQ(promised["uncertainty"], checked["uncertainty"]);
    EXPECT_EQ(promised["roll"]["after"]["gravity_torque_p95_n_m"],
              checked["uncertainty"]["gravity_torque_p95_n_m"]);
    // Rolled once more with the weight on: it stays anywhere, and both tests are folded in.
    const json again = json::parse(run_with_models(roll(trimmed, {"--down", "none", "--json"})).out);
    EXPECT_EQ(again["roll"]["tests"].size(), 2U);
    EXPECT_EQ(again["roll"]["counterweights"].size(), 0U);
    // Those of the file alone.
    EXPECT_EQ(json::parse(run_with_models(roll(trimmed, {"--json"})).out)["roll"]["unbalance_kg_m"],
              promised["roll"]["unbalance_kg_m"]);
}

TEST(RollVerb, AMovedItemVoidsTheTest) {
    const TemporaryFolder folder;
    const fs::path trimmed = folder / "trimmed.toml";
    run_with_models(roll(easy_load(folder), with(weighed, {"-o", trimmed.string()})));
    std::string text = content_of(trimmed);
    const std::string at = "at = \"340 mm\"";
    ASSERT_NE(text.find(at), std::string::npos);
    folder.write("trimmed.toml", text.replace(text.find(at), at.size(), "at = \"335 mm\""));
    EXPECT_THAT(run_with_models({"check", trimmed.string()}).out,
                HasSubstr("Roll test 1 does not count any more: roast was changed after it."));
    const Ending end = run_with_models(roll(trimmed, {}));
    EXPECT_EQ(end.status, bad_input);
    EXPECT_THAT(end.err, HasSubstr("has no roll test that counts"));
}

TEST(RollVerb, APlanOfARolledLoadCanBeRead) {
    const TemporaryFolder folder;
    const fs::path trimmed = folder / "trimmed.toml", planned = folder / "planned.toml";
    run_with_models(roll(easy_load(folder), with(weighed, {"-o", trimmed.string()})));
    for (const char* const pick : {"0", "1"}) {
        const Ending end =
            run_with_models({"plan", trimmed.string(), "-o", planned.string(), "--pick", pick});
        if (end.status == bad_input) continue;  // no such answer
        EXPECT_NE(run_with_models({"check", planned.string()}).status, bad_input) << pick;
    }
}

TEST(RollVerb, RefusesWhatCannotBe) {
    const TemporaryFolder folder;
    const fs::path load = easy_load(folder);
    const fs::path out = folder.write("out.toml", "untouched");
    const auto told = [&](const std::vector<std::string>& words) {
        const Ending end = run_with_models(roll(load, with(words, {"-o", out.string()})));
        EXPECT_EQ(end.status, bad_input);
        EXPECT_EQ(end.out, "");
        EXPECT_EQ(content_of(out), "untouched");
        return end.err;
    };
    EXPECT_THAT(told({}), HasSubstr("--down"));
    EXPECT_THAT(told({"--down", "210"}), AllOf(HasSubstr("--down"), HasSubstr("none if it stayed anywhere")));
    EXPECT_THAT(told({"--down", "30 mm"}), HasSubstr("--down"));
    EXPECT_THAT(told({"--down", "1 deg", "--weight", "300 g"}),
                HasSubstr("--weight without --radius and --clock"));
    EXPECT_THAT(told({"--weight", "300 g"}), HasSubstr("add --down"));
    EXPECT_THAT(told({"--down", "1 deg", "--weight", "0 g", "--radius", "80 mm", "--clock", "1 deg"}),
                HasSubstr("--weight"));
    EXPECT_THAT(told({"--down", "none", "--on", "roller"}), HasSubstr("did you mean 'rollers'?"));
    EXPECT_THAT(told({"--down", "none", "--read", "50 deg"}), HasSubstr("--read"));
    EXPECT_THAT(told({"--down", "none", "--counterweights", "1"}),
                HasSubstr("the load has no counterweight"));
    std::string text = content_of(load);
    const std::string width = "width = \"8 mm\"";
    folder.write("load.toml", text.replace(text.find(width), width.size(), width + "\nbushing = false"));
    EXPECT_THAT(told({"--down", "none"}), HasSubstr("a square rod without bushings locks on its flats"));
    EXPECT_THAT(told({"--down", "none", "--on", "rollers"}), HasSubstr("locks on its flats"));
    EXPECT_EQ(run_with_models(roll(load, {"--down", "none", "--on", "bushings"})).status, computed);
}

}  // namespace
}  // namespace evenspit
