// SPDX-License-Identifier: MIT
// A pig's legs, from the load file to what is told.
#include <algorithm>
#include <cmath>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "app/verb_runner.h"
#include "body/shape.h"
#include "load/load_file.h"
#include "report/mount_words.h"
#include "report/tie_words.h"
#include "support/temporary_folder.h"

namespace evenspit {
namespace {

using nlohmann::json;
using test::Ending;
using test::TemporaryFolder;
using testing::AllOf;
using testing::Contains;
using testing::Each;
using testing::HasSubstr;
using testing::Not;

/// A pig of 7 kg, 220 mm under a lid.
std::string load_with(const std::string& trussing, const std::string& more = {}) {
    return R"([rod]
model = "hexagon-12mm"
[motor]
model = "heavy-gearmotor"
[[cooker.surface]]
name = "lid"
shape = "plane"
point = ["0 mm", "0 mm", "220 mm"]
normal = [0, 0, -1]
[[item]]
name = "pig"
shape = "suckling pig"
mass = "7 kg"
at = "470 mm"
)" + trussing +
           R"(
[[fork]]
model = "four-tine"
at = "170 mm"
points = "point"
)" + more;
}

json checked(const std::string& load, const std::string& mountings = "0") {
    const TemporaryFolder folder;
    const Ending end = test::run_with_models(
        {"check", folder.write("pig.toml", load).string(), "--json", "--mountings", mountings});
    EXPECT_LE(end.status, 1) << end.err;
    return json::parse(end.out);
}

json finding_of(const json& result, const std::string& code) {
    for (const json& finding : result["findings"]) {
        if (finding["code"] == code) return finding;
    }
    return {};
}

double swept_m(const json& result) {
    double most = 0;
    for (const json& place : result["clearance"]["profile"]) most = std::max(most, place[1].get<double>());
    return most;
}

TEST(Pig, LooseLegsSweepFurtherAndStrike) {
    const json folded = checked(load_with("")), stretched = checked(load_with("trussing = \"stretched\"")),
               loose = checked(load_with("trussed = false"));
    EXPECT_GT(swept_m(loose), 1.5 * swept_m(folded));
    EXPECT_LT(swept_m(stretched), swept_m(folded) + 1e-3);
    EXPECT_TRUE(finding_of(folded, "limbs-free").is_null());
    EXPECT_TRUE(finding_of(stretched, "limbs-free").is_null());
    EXPECT_THAT(finding_of(loose, "limbs-free")["message"].get<std::string>(),
                AllOf(HasSubstr("The forelegs and hind legs of pig are free"), HasSubstr("strike lid"),
                      HasSubstr("tied, the pig goes to"),
                      HasSubstr("Fold them over the belly, or stretch them along the rod"),
                      HasSubstr("wet butcher's string or wire, clear of the fire")));
    EXPECT_LT(loose["clearance"]["gap_min_m"].get<double>(), 0);
    EXPECT_GT(folded["clearance"]["gap_min_m"].get<double>(), 0.05);
    // Loose legs count as folded for what they weigh.
    EXPECT_EQ(loose["balance"]["unbalance_kg_m"], folded["balance"]["unbalance_kg_m"]);
}

// The unbalance that the check tells, against the regions' masses, which are counted cell by cell.
TEST(Pig, StretchedLegsMoveTheUnbalanceAsTheirMassesSay) {
    const auto told = [](const std::string& trussing) {
        return checked(load_with(trussing))["balance"]["unbalance_size_kg_m"].get<double>();
    };
    const auto summed = [](body::Trussing way) {
        body::ShapeOptions options;
        options.species = "suckling pig";
        options.mass_kg = 7;
        options.trussing = way;
        Vec3 sum = Vec3::Zero();
        for (const body::PartShare& share : body::make_shape(options).shares)
            sum += share.mass_kg * share.centre_m;
        return std::hypot(sum.y(), sum.z());
    };
    // The fork turns, too, but is even all round.
    const double moved = told("trussing = \"stretched\"") - told("trussing = \"folded\"");
    EXPECT_LT(moved, -8e-3);
    EXPECT_NEAR(moved, summed(body::Trussing::stretched) - summed(body::Trussing::folded), 6e-4);
}

TEST(Pig, ATieThatMayComeUndoneCounts) {
    const auto stops = [](const std::string& chance) {
        return checked(load_with("", "[spread]\nlimb_loose = \"" + chance + "\"\n"), "256")["chance"]["stop"]
            .get<double>();
    };
    const double never = stops("0 %");
    EXPECT_LT(never, 0.02);
    EXPECT_NEAR(stops("50 %"), 0.5, 0.1);
}

TEST(Pig, HowItIsTiedIsRemarkedOnWhereItIsNotTold) {
    const auto remarks = [](const std::string& trussing) {
        return read_load_text(load_with(trussing), "pig.toml", EVENSPIT_SOURCE_DIR "/models").remarks;
    };
    EXPECT_THAT(remarks(""), Contains(HasSubstr("How the legs of pig are tied is not given")));
    EXPECT_THAT(remarks("trussing = \"folded\""), Each(Not(HasSubstr("are tied"))));
    EXPECT_THAT(remarks("trussed = true"), Each(Not(HasSubstr("are tied"))));
}

TEST(Pig, StepsSayWhereItsLegsAreTied) {
    const auto load = [](const std::string& trussing) {
        return read_load_text(load_with(trussing), "pig.toml", EVENSPIT_SOURCE_DIR "/models");
    };
    const Assembly stretched = load("trussing = \"stretched\""), folded = load("trussing = \"folded\"");
    const std::vector<std::string> steps = mounting_steps(stretched, UnitSystem::metric);
    EXPECT_THAT(steps.back(),
                AllOf(HasSubstr("Tie the legs of pig to the rod with wet butcher's string or wire"),
                      HasSubstr("clear of the fire"), HasSubstr("beside the jowls")));
    EXPECT_THAT(mounting_steps(folded, UnitSystem::metric), Each(Not(HasSubstr("Tie the legs"))));
    EXPECT_THAT(tying_step(folded.items[0]), HasSubstr("Fold the legs over the belly and tie them there"));
    EXPECT_THAT(tying_step(stretched.items[0]), HasSubstr("once the rod is in"));
    const TemporaryFolder folder;
    const Ending card = test::run_with_models({"card", folder.write("pig.toml", load_with("")).string(), "-o",
                                               (folder.path() / "pig.html").string(), "--mountings", "0"});
    EXPECT_LE(card.status, 1) << card.err;
    EXPECT_THAT(test::content_of(folder.path() / "pig.html"), HasSubstr("Fold the legs over the belly"));
}

// --- rods in a row ---

TEST(RodsInARow, EachGetsItsShareOfTheMotor) {
    const std::string one = load_with("");
    std::string six = one;
    six.replace(six.find("[motor]\n"), 8, "[motor]\nrods = 6\n");
    const json alone = checked(one), shared = checked(six);
    EXPECT_FALSE(alone["balance"].contains("rods_on_motor"));
    EXPECT_EQ(shared["balance"]["rods_on_motor"], 6);
    EXPECT_NEAR(shared["balance"]["rated_torque_n_m"].get<double>(),
                alone["balance"]["rated_torque_n_m"].get<double>() / 6, 1e-12);
    EXPECT_NEAR(shared["balance"]["motor_use"].get<double>(), 6 * alone["balance"]["motor_use"].get<double>(),
                1e-9);
    EXPECT_EQ(shared["turning"]["play_deg"], alone["turning"]["play_deg"]);
    EXPECT_EQ(shared["balance"]["unbalance_kg_m"], alone["balance"]["unbalance_kg_m"]);
    EXPECT_THAT(finding_of(shared, "motor-torque")["message"].get<std::string>(),
                HasSubstr("a sixth of 20 N m: the motor turns 6 rods"));
    EXPECT_THAT(finding_of(alone, "motor-torque")["message"].get<std::string>(), Not(HasSubstr("sixth")));
    const TemporaryFolder folder;
    EXPECT_THAT(
        test::run_with_models({"check", folder.write("six.toml", six).string(), "--mountings", "0"}).out,
        HasSubstr("a sixth of 20 N m"));
}

}  // namespace
}  // namespace evenspit
