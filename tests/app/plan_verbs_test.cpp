// SPDX-License-Identifier: MIT
// plan, compare and fit, run as the command line runs them.
#include <fstream>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "app/sample_load.h"
#include "app/verb_runner.h"
#include "load/load_file.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using test::content_of;
using test::Ending;
using test::run_with_models;
using test::SampleLoad;
using test::TemporaryFolder;
using test::write_sample_load;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

/// Every figure that the plan promises, as `check` finds it.
void expect_kept(const json& promised, const json& checked) {
    EXPECT_EQ(promised["gravity_torque_peak_n_m"], checked["balance"]["gravity_torque_peak_n_m"]);
    EXPECT_EQ(promised["motor_torque_peak_n_m"], checked["balance"]["motor_torque_peak_n_m"]);
    EXPECT_EQ(promised["motor_use"], checked["balance"]["motor_use"]);
    EXPECT_EQ(promised.value("gap_min_m", -1.0), checked["clearance"].value("gap_min_m", -1.0));
    EXPECT_EQ(promised.value("grip_torque_use", -1.0), checked["grip"].value("torque_use", -1.0));
    EXPECT_EQ(promised["yield_use"], checked["rod"]["yield_use"]);
}

TEST(PlanVerb, KeepsItsPromisesToTheLastDigit) {
    const TemporaryFolder folder;
    const fs::path load =
        write_sample_load(folder, {.extra = "# for the drawer\n[stock]\ncounterweights = [ { mass = \"200 "
                                            "g\", radius = [\"40 mm\", \"90 mm\"], "
                                            "diameter = \"35 mm\" } ]\n"});
    const json plan = json::parse(run_with_models({"plan", load.string(), "--json"}).out);
    ASSERT_GE(plan["plan"].size(), 3U);
    for (std::size_t i = 0; i < plan["plan"].size(); ++i) {
        const fs::path better = folder / "better.toml";
        const Ending written =
            run_with_models({"plan", load.string(), "-o", better.string(), "--pick", std::to_string(i)});
        EXPECT_EQ(written.err, "");
        EXPECT_THAT(content_of(better), HasSubstr("# for the drawer"));
        expect_kept(
            plan["plan"][i],
            json::parse(run_with_models({"check", better.string(), "--json", "--mountings", "0"}).out));
    }
}

TEST(PlanVerb, KeepsThemForABirdOnModelForks) {
    const fs::path sample = fs::path(EVENSPIT_SOURCE_DIR) / "samples" / "harvest-turkey.toml";
    const TemporaryFolder folder;
    const fs::path better = folder / "better.toml";
    const Ending planned = run_with_models({"plan", sample.string(), "--json", "-o", better.string()});
    const json plan = json::parse(planned.out);
    const json checked =
        json::parse(run_with_models({"check", better.string(), "--json", "--mountings", "0"}).out);
    expect_kept(plan["plan"][plan["recommended"].get<std::size_t>()], checked);
    EXPECT_EQ(planned.status, 0);
    // All that the cook wrote beside is still there.
    std::istringstream before(content_of(sample));
    const std::string after = content_of(better);
    for (std::string line; std::getline(before, line);) {
        const std::size_t hash = line.find('#');
        if (hash == std::string::npos) continue;
        EXPECT_THAT(after, HasSubstr(line.substr(hash)));
    }
}

// The recommended answer is judged as check judges what was written, chance and all.
TEST(PlanVerb, PromisesTheChanceThatCheckFinds) {
    const fs::path sample = fs::path(EVENSPIT_SOURCE_DIR) / "samples" / "harvest-turkey.toml";
    const TemporaryFolder folder;
    const fs::path better = folder / "better.toml";
    const json plan = json::parse(
        run_with_models({"plan", sample.string(), "--json", "--mountings", "96", "-o", better.string()}).out);
    const json answer = plan["plan"][plan["recommended"].get<std::size_t>()];
    const json checked =
        json::parse(run_with_models({"check", better.string(), "--json", "--mountings", "96"}).out);
    EXPECT_EQ(answer["chance"], checked["chance"]);
    EXPECT_EQ(answer["verdict"], checked["verdict"]);
    const json as_it_stands =
        json::parse(run_with_models({"check", sample.string(), "--json", "--mountings", "96"}).out);
    EXPECT_EQ(plan["plan"][0]["chance"], as_it_stands["chance"]) << "not by fewer mountings";
    EXPECT_EQ(plan["plan"][0]["verdict"], as_it_stands["verdict"]);
    for (const json& fork : answer["forks"]) {
        const double steps = fork["at_m"].get<double>() / 0.005;
        EXPECT_NEAR(steps, std::round(steps), 1e-6) << "a tape is read to 5 mm";
    }
}

TEST(PlanVerb, MovesOnlyWhatItMay) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder);
    const auto moved = [&](const std::string& what) {
        const json plan =
            json::parse(run_with_models({"plan", load.string(), "--json", "--mountings", "0", "--move", what})
                            .out)["plan"];
        json seats = json::array();
        for (const json& answer : plan) {
            for (const std::string key : {"items", "forks", "counterweights"}) {
                if (answer[key] != plan[0][key]) seats.push_back(key);
            }
        }
        return seats;
    };
    for (const json& key : moved("counterweights")) EXPECT_EQ(key, "counterweights");
    EXPECT_THAT(moved("line").dump(), Not(HasSubstr("counterweights")));
    for (const json& key : moved("line")) EXPECT_EQ(key, "items");
    EXPECT_FALSE(moved("line").empty());
    const Ending bad = run_with_models({"plan", load.string(), "--move", "line,fork"});
    EXPECT_EQ(bad.status, bad_input);
    EXPECT_THAT(bad.err, HasSubstr("line, turn, stations, forks, counterweights"));
}

TEST(PlanVerb, TurnsAStopIntoReady) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(
        folder, {.rated_torque = "0.12 N m", .stall_torque = "0.24 N m", .friction_torque = "0.05 N m"});
    EXPECT_EQ(run_with_models({"check", load.string(), "--mountings", "0"}).status, computed_stop);
    const fs::path better = folder / "better.toml";
    EXPECT_EQ(run_with_models({"plan", load.string(), "-o", better.string(), "--mountings", "0"}).status,
              computed);
    const json checked =
        json::parse(run_with_models({"check", better.string(), "--json", "--mountings", "0"}).out);
    EXPECT_EQ(checked["verdict"], "ready") << checked["findings"][0]["message"];
}

TEST(PlanVerb, KeepsScansFindableFromAnotherFolder) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder);
    fs::create_directory(folder / "better");
    const fs::path better = folder / "better" / "load.toml";
    EXPECT_EQ(run_with_models({"plan", load.string(), "-o", better.string()}).status, computed);
    EXPECT_THAT(content_of(better), HasSubstr("scan = \"../body.ply\""));
    EXPECT_EQ(run_with_models({"check", better.string()}).status, computed);
}

TEST(PlanVerb, TakesPlainNamesInTheFolderOneStandsIn) {
    const TemporaryFolder folder;
    write_sample_load(folder);
    const fs::path before = fs::current_path();
    fs::current_path(folder.path());
    const Ending planned = run_with_models({"plan", "load.toml", "-o", "better.toml"});
    const Ending checked = run_with_models({"check", "better.toml"});
    fs::current_path(before);
    EXPECT_EQ(planned.status, computed) << planned.err;
    EXPECT_EQ(checked.status, computed) << checked.err;
    EXPECT_THAT(content_of(folder / "better.toml"), HasSubstr("scan = \"body.ply\""));
}

TEST(PlanVerb, LeavesNoFileBehindAPickThatIsNotThere) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder);
    const fs::path better = folder.write("better.toml", "untouched");
    const Ending end = run_with_models({"plan", load.string(), "-o", better.string(), "--pick", "99"});
    EXPECT_EQ(end.status, bad_input);
    EXPECT_THAT(end.err, HasSubstr("--pick 99: there is no such answer"));
    EXPECT_EQ(content_of(better), "untouched");
    EXPECT_EQ(run_with_models({"plan", load.string(), "-o", load.string()}).status, bad_input)
        << "the load itself";
}

TEST(PlanVerb, TellsAStopByItsStatus) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder, {.rated_torque = "0.01 N m", .stall_torque = "0.02 N m"});
    const Ending end = run_with_models({"plan", load.string()});
    EXPECT_EQ(end.status, computed_stop);
    EXPECT_THAT(end.out, AllOf(HasSubstr("What stands in the way"), HasSubstr("The motor is too weak")));
}

TEST(CompareVerb, SetsTwoLoadsSideBySide) {
    const TemporaryFolder one, two;
    const fs::path a = write_sample_load(one), b = write_sample_load(two, {.rated_torque = "0.9 N m"});
    const Ending text = run_with_models({"compare", a.string(), b.string()});
    EXPECT_EQ(text.status, computed);
    EXPECT_THAT(text.out, HasSubstr("motor used"));
    const json j = json::parse(run_with_models({"compare", a.string(), b.string(), "--json"}).out);
    EXPECT_GT(j["loads"][0]["motor_use"], j["loads"][1]["motor_use"]);
    EXPECT_NE(j["loads"][0]["name"], j["loads"][1]["name"]) << "files of one name are told by their paths";
}

TEST(CompareVerb, SweepsAKey) {
    const TemporaryFolder folder;
    const std::string load = write_sample_load(folder).string();
    const std::string csv =
        run_with_models({"compare", load, "--sweep", "fork.1.at=210mm:240mm:10mm", "--csv"}).out;
    EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 5);
    const fs::path picture = folder / "sweep.svg";
    EXPECT_EQ(run_with_models(
                  {"compare", load, "--sweep", "motor.rated_torque=0.2:0.6:0.2 N m", "-o", picture.string()})
                  .status,
              0);
    EXPECT_THAT(content_of(picture), HasSubstr("<svg"));
    const Ending wrong = run_with_models({"compare", load, "--sweep", "fork.1.att=210mm:240mm:10mm"});
    EXPECT_EQ(wrong.status, bad_input);
    EXPECT_THAT(wrong.err, AllOf(HasSubstr("fork[1].att"), HasSubstr("load.toml")));
    EXPECT_EQ(run_with_models({"compare", load, "--sweep", "fork.9.at=210mm:240mm:10mm"}).status, bad_input);
    const Ending none = run_with_models({"compare", load, "--sweep", "counterweight.1.mass=100g:300g:100g"});
    EXPECT_EQ(none.status, bad_input);
    EXPECT_THAT(none.err, AllOf(HasSubstr("found no counterweight 1 in the file"),
                                HasSubstr("write a counterweight with all its keys into the file first")));
}

TEST(CompareVerb, DrawsNothingButSweeps) {
    const TemporaryFolder folder;
    const std::string load = write_sample_load(folder).string();
    const Ending end = run_with_models({"compare", load, load, "-o", (folder / "x.svg").string()});
    EXPECT_EQ(end.status, bad_input);
    EXPECT_FALSE(fs::exists(folder / "x.svg"));
}

TEST(FitVerb, ScalesAScanWithItsMass) {
    const TemporaryFolder folder;
    const std::string load = write_sample_load(folder).string();
    const Ending end = run_with_models({"fit", load, "--json", "--mountings", "0"});
    EXPECT_EQ(end.status, computed) << end.err;
    const json fit = json::parse(end.out)["fit"];
    EXPECT_GE(fit["masses"].size(), 9U);
    EXPECT_GT(fit["largest_mass_kg"], 2);
    // Twice the mass is a quarter larger each way: nearer to the grate.
    EXPECT_LT(fit["masses"].back()["gap_min_m"], fit["masses"][0]["gap_min_m"]);
}

TEST(FitVerb, TellsTheSpeciesRange) {
    const TemporaryFolder folder;
    const fs::path load = folder.write(
        "quail.toml", content_of(fs::path(EVENSPIT_SOURCE_DIR) / "samples" / "harvest-turkey.toml"));
    std::string text = content_of(load);
    text.replace(text.find("\"13 lb\""), 7, "\"110 g\"");
    const std::string_view shape = "shape = \"turkey\"";
    text.replace(text.find(shape), shape.size(), "shape = \"quail\"");
    folder.write("quail.toml", text);
    const json fit =
        json::parse(run_with_models({"fit", load.string(), "--json", "--mountings", "0"}).out)["fit"];
    EXPECT_THAT(fit["masses"][0]["stopped_by"].get<std::string>(), HasSubstr("There is no such body"));
    EXPECT_FALSE(fit["masses"][0].contains("verdict"));
}

}  // namespace
}  // namespace evenspit
