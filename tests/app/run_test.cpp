// SPDX-License-Identifier: MIT
#include "app/cli/run.h"

#include <algorithm>
#include <numbers>
#include <sstream>
#include <stdexcept>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "app/sample_load.h"
#include "app/verb_runner.h"
#include "body/shape.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using test::content_of;
using test::Ending;
using test::run_in;
using test::run_plain;
using test::SampleLoad;
using test::TemporaryFolder;
using test::write_sample_load;
using testing::AllOf;
using testing::EndsWith;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;

// A place to print to that takes nothing, like a full disk.
class FullDisk : public std::streambuf {
  protected:
    int overflow(int) override { return traits_type::eof(); }
    std::streamsize xsputn(const char*, std::streamsize) override { return 0; }
};

// `text` with the first `old` in it replaced; throws if there is none, so that no test changes nothing.
std::string with(std::string text, const std::string& old, const std::string& fresh) {
    const std::size_t at = text.find(old);
    if (at == std::string::npos) throw std::invalid_argument("not in the text: " + old);
    return text.replace(at, old.size(), fresh);
}

TEST(Run, AReadyLoadEndsWithZero) {
    const TemporaryFolder folder;
    const Ending end = run_plain({"check", write_sample_load(folder).string()});
    EXPECT_EQ(end.status, 0) << end.err;
    EXPECT_THAT(end.out, StartsWith("READY  ")) << end.out;
    EXPECT_THAT(end.out, HasSubstr("Sample roast"));
    EXPECT_EQ(end.err, "");
}

TEST(Run, ALoadThatNeedsCareEndsWithZeroToo) {
    const TemporaryFolder folder;
    const Ending end = run_plain({"check", write_sample_load(folder, {.keep = "180 mm"}).string()});
    EXPECT_EQ(end.status, 0) << end.err;
    EXPECT_THAT(end.out, StartsWith("CARE  "));
}

TEST(Run, ALoadToBeStoppedEndsWithOne) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder, {.rated_torque = "0.1 N m"});
    for (const char* format : {"--json", "--csv", "--quiet"}) {
        const Ending end = run_plain({"check", load.string(), format});
        EXPECT_EQ(end.status, 1) << end.err;
        EXPECT_THAT(end.out, Not(IsEmpty()));
    }
    EXPECT_THAT(run_plain({"check", load.string()}).out, StartsWith("STOP  "));
}

TEST(Run, BadInputEndsWithTwoAndPrintsNothing) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder, {.extra = "\n[cook]\nrdiation = true\n"});
    const Ending end = run_plain({"check", load.string(), "--json"});
    EXPECT_EQ(end.status, 2);
    EXPECT_EQ(end.out, "");
    EXPECT_THAT(end.err, StartsWith(load.string() + ":"));
    EXPECT_THAT(end.err, HasSubstr("rdiation"));
    EXPECT_THAT(end.err, HasSubstr("radiation"));
}

TEST(Run, AComplaintCannotCommandTheTerminal) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder, {.extra = "\n[cook]\n\"\\u001b[2J\" = true\n"});
    const Ending end = run_in({.terminal = true, .variables = {{"TERM", "dumb"}}}, {"check", load.string()});
    EXPECT_EQ(end.status, 2);
    EXPECT_THAT(end.err, HasSubstr("[2J"));
    EXPECT_THAT(end.err, Not(HasSubstr("\x1b")));
}

TEST(Run, AMissingLoadFileEndsWithTwo) {
    const TemporaryFolder folder;
    const Ending end = run_plain({"check", (folder / "none.toml").string()});
    EXPECT_EQ(end.status, 2);
    EXPECT_THAT(end.err, HasSubstr("none.toml"));
    EXPECT_EQ(run_plain({"check", folder.path().string()}).status, 2) << "a folder is no load file";
}

TEST(Run, BadUsageEndsWithTwo) {
    const Ending end = run_plain({"chek", "a.toml"});
    EXPECT_EQ(end.status, 2);
    EXPECT_EQ(end.out, "");
    EXPECT_EQ(end.err, "evenspit: unknown verb 'chek'; did you mean 'check'?\nHelp: evenspit --help\n");
}

TEST(Run, NoVerbShowsTheHelpAsAMessage) {
    const Ending end = run_plain({});
    EXPECT_EQ(end.status, 2);
    EXPECT_EQ(end.out, "");
    EXPECT_THAT(end.err, HasSubstr("Usage: evenspit VERB"));
}

TEST(Run, HelpAndVersionAreResults) {
    for (const char* option : {"--help", "--version"}) {
        const Ending end = run_plain({option});
        EXPECT_EQ(end.status, 0);
        EXPECT_THAT(end.out, HasSubstr("evenspit"));
        EXPECT_EQ(end.err, "");
    }
}

TEST(Run, AFullDiskEndsWithThree) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder);
    FullDisk disk;
    std::ostream out(&disk);
    std::ostringstream err;
    const Surroundings around{
        .out = out, .err = err, .variable = [](const std::string&) { return std::nullopt; }};
    EXPECT_EQ(run({"check", load.string()}, around), 3);
    EXPECT_THAT(err.str(), HasSubstr("cannot write to standard output"));
}

TEST(Run, WhatCannotBeToldLeavesNoFile) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder);
    const fs::path older = folder.write("older.toml", "older");
    const std::size_t before = folder.entries();
    for (const char* name : {"older.toml", "newer.toml"}) {
        FullDisk disk;
        std::ostream out(&disk);
        std::ostringstream err;
        const Surroundings around{
            .out = out, .err = err, .variable = [](const std::string&) { return std::nullopt; }};
        EXPECT_EQ(run({"plan", load.string(), "-o", (folder / name).string()}, around), 3);
    }
    EXPECT_EQ(content_of(older), "older");
    EXPECT_EQ(folder.entries(), before);
}

TEST(Run, NothingThatIsPrintedCommandsTheTerminal) {
    const TemporaryFolder folder;
    const std::string load = write_sample_load(folder).string();
    const std::string evil = "\x1b]0;title\x07\x1b[2J\u009B2J\n\r";
    const test::World world{.terminal = true, .variables = {{"TERM", "dumb"}}};
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{evil},
          {"--" + evil},
          {"check", load, "--" + evil},
          {"check", load, "--units", evil},
          {"check", evil},
          {"check", load, evil},
          {"plan", load, "-o", evil + "/x"},
          {"plan", load, "--pick", evil, "-o", "x"},
          {"scan", load, "-o", "x.ply", "--axis", evil},
          {"shape", evil, "--mass", evil},
          {"compare", load, "--sweep", evil},
          {"compare", load, "--sweep", "fork.1.at=230mm:231mm" + evil + ":1mm"},
          {"compare", load, "--sweep", "title=1" + evil + ":2:1"}}) {
        const Ending end = run_in(world, words);
        EXPECT_EQ(end.status, 2) << end.err;
        EXPECT_THAT(end.out + end.err, Not(testing::ContainsRegex("[\x1b\x07\r]|\u009B"))) << end.err;
        EXPECT_THAT(end.err, EndsWith("\n"));
    }
    // A name that reaches a result, and the line of progress.
    const std::string named =
        folder.write("a\x1b[2J\u009B.toml", content_of(load) + "\n[cook]\nradiation = true\n").string();
    for (const char* format : {"--quiet", "--json", "--csv"}) {
        const Ending end = run_in(world, {"compare", load, named, format});
        EXPECT_EQ(end.status, 0) << end.err;
        EXPECT_THAT(end.out, AllOf(Not(HasSubstr("\x1b")), Not(HasSubstr("\u009B"))));
    }
    const Ending shown = run_in({.terminal = true}, {"check", named});
    EXPECT_THAT(shown.err, AllOf(HasSubstr("reading a [2J"), Not(HasSubstr("\x1b[2J"))));
}

TEST(Run, ManyComplaintsAreCounted) {
    const TemporaryFolder folder;
    std::string unknown = "\n[cook]\n";
    for (int i = 0; i < 1000; ++i) unknown += "key" + std::to_string(i) + " = 1\n";
    const Ending end = run_plain({"check", write_sample_load(folder, {.extra = unknown}).string()});
    EXPECT_EQ(end.status, 2);
    EXPECT_EQ(std::count(end.err.begin(), end.err.end(), '\n'), 21);
    EXPECT_THAT(end.err, EndsWith("\nevenspit: and 980 more; mend these first\n"));
}

TEST(Run, WhatBreaksInsideEndsWithThree) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder);
    std::ostringstream out;
    std::ostringstream err;
    const Surroundings broken{
        .out = out, .err = err, .variable = [](const std::string&) -> std::optional<std::string> {
            throw std::runtime_error("out of tune");
        }};
    EXPECT_EQ(run({"check", load.string()}, broken), 3);
    EXPECT_EQ(out.str(), "");
    EXPECT_THAT(err.str(), HasSubstr("out of tune"));
    const Surroundings odd{.out = out,
                           .err = err,
                           .variable = [](const std::string&) -> std::optional<std::string> { throw 7; }};
    EXPECT_EQ(run({"check", load.string()}, odd), 3);
}

TEST(Run, TheResultGoesWholeIntoAFile) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder, {.rated_torque = "0.1 N m"});
    const Ending end = run_plain({"check", load.string(), "--json", "-o", (folder / "result.json").string()});
    EXPECT_EQ(end.status, 1);
    EXPECT_EQ(end.out, "");
    EXPECT_EQ(content_of(folder / "result.json"), run_plain({"check", load.string(), "--json"}).out);
}

TEST(Run, AFileThatStoodThereOutlivesBadInput) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder, {.extra = "\nnonsense = 1\n"});
    const fs::path result = folder.write("result.json", "old");
    EXPECT_EQ(run_plain({"check", load.string(), "--json", "-o", result.string()}).status, 2);
    EXPECT_EQ(content_of(result), "old");
    EXPECT_EQ(run_plain({"check", load.string(), "--json", "-o", (folder / "new.json").string()}).status, 2);
    EXPECT_FALSE(fs::exists(folder / "new.json"));
}

TEST(Run, TheLoadIsNeverTheOutput) {
    const TemporaryFolder folder;
    const fs::path load = write_sample_load(folder);
    const std::string before = content_of(load);
    const fs::path same = folder.path() / "." / "load.toml";
    const Ending end = run_plain({"check", load.string(), "-o", same.string()});
    EXPECT_EQ(end.status, 2);
    EXPECT_THAT(end.err, HasSubstr("is what the result is made from; name another file"));
    EXPECT_EQ(content_of(load), before);
}

TEST(Run, NothingThatALoadNamesIsTheOutput) {
    const TemporaryFolder folder;
    write_mesh(folder / "wall.ply", test::ellipsoid_mesh(0.1, 0.1, 0.1, Vec3(0, 0, -1)));
    fs::create_directories(folder / "models/motors");
    folder.write("models/motors/slow.toml", "about = \"slow\"\n");
    fs::create_symlink("body.ply", folder / "link.ply");
    write_sample_load(folder);
    const std::string load =
        folder
            .write("full.toml",
                   with(with(content_of(folder / "load.toml"), "[motor]", "[motor]\nmodel = \"slow\""),
                        "[[item]]",
                        "[[cooker.surface]]\nname = \"wall\"\nshape = \"mesh\"\n"
                        "file = \"wall.ply\"\nunit = \"m\"\n[[item]]"))
            .string();
    const test::World world{.variables = {{"EVENSPIT_MODELS", (folder / "models").string()}}};
    for (const char* name : {"full.toml", "body.ply", "link.ply", "wall.ply", "models/motors/slow.toml"}) {
        const std::string output = (folder / name).string(), before = content_of(output);
        for (const std::vector<std::string>& verb :
             {std::vector<std::string>{"check", load},
              {"plan", load},
              {"compare", load, load},
              {"compare", load, "--sweep", "fork.1.at=230mm:231mm:1mm"}}) {
            std::vector<std::string> words = verb;
            words.insert(words.end(), {"-o", output});
            const Ending end = run_in(world, words);
            EXPECT_EQ(end.status, 2) << verb[0] << ' ' << name;
            EXPECT_EQ(end.out, "");
            EXPECT_THAT(end.err, HasSubstr("--output: '" + output + "' is what the result is made from"));
            EXPECT_EQ(content_of(output), before);
        }
    }
    EXPECT_EQ(run_in(world, {"check", load, "-o", (folder / "result.txt").string()}).status, 0);
}

TEST(Run, ColourAndProgressOnlyOnATerminalThatWantsThem) {
    const TemporaryFolder folder;
    const std::string load = write_sample_load(folder).string();
    EXPECT_THAT(run_plain({"check", load}).out, Not(HasSubstr("\x1b")));

    const Ending shown = run_in({.terminal = true}, {"check", load});
    EXPECT_THAT(shown.out, HasSubstr("\x1b["));
    EXPECT_THAT(shown.err, HasSubstr("reading load.toml"));
    EXPECT_THAT(shown.err, testing::EndsWith("\r\x1b[K")) << "the line of progress is wiped";

    EXPECT_THAT(run_in({.terminal = true, .variables = {{"NO_COLOR", "1"}}}, {"check", load}).out,
                Not(HasSubstr("\x1b")));
    EXPECT_THAT(run_in({.terminal = true, .variables = {{"NO_COLOR", ""}}}, {"check", load}).out,
                HasSubstr("\x1b"));
    const Ending dumb = run_in({.terminal = true, .variables = {{"TERM", "dumb"}}}, {"check", load});
    EXPECT_THAT(dumb.out + dumb.err, Not(HasSubstr("\x1b")));
    EXPECT_EQ(run_in({.terminal = true}, {"check", load, "--quiet"}).err, "");
    EXPECT_THAT(run_in({.terminal = true}, {"check", load, "--json"}).out, Not(HasSubstr("\x1b")));
}

TEST(Run, TextFollowsTheTerminalsWidth) {
    const TemporaryFolder folder;
    const std::string load = write_sample_load(folder).string();
    EXPECT_NE(run_in({.terminal = true, .columns = 50}, {"check", load}).out,
              run_in({.terminal = true, .columns = 90}, {"check", load}).out);
    EXPECT_EQ(run_in({.columns = 50}, {"check", load}).out, run_in({.columns = 90}, {"check", load}).out)
        << "what is not shown on a terminal does not depend on it";
}

TEST(Run, UnitsChangeTheTextAndNotTheJson) {
    const TemporaryFolder folder;
    const std::string load = write_sample_load(folder).string();
    EXPECT_THAT(run_plain({"check", load, "--units", "us"}).out, HasSubstr("lbf in"));
    EXPECT_THAT(run_plain({"check", load}).out, HasSubstr("N m"));
    EXPECT_EQ(run_plain({"check", load, "--json", "--units", "us"}).out,
              run_plain({"check", load, "--json"}).out);
}

TEST(Run, CsvHoldsTheCurves) {
    const TemporaryFolder folder;
    const Ending end = run_plain({"check", write_sample_load(folder).string(), "--csv"});
    EXPECT_THAT(end.out, StartsWith("curve,turn_deg,motor_torque_n_m\ntorque,0,"));
    EXPECT_THAT(end.out, HasSubstr("\ncurve,station_m,swept_radius_m\nradius,"));
}

TEST(Run, ModelsAreListedOneALine) {
    const TemporaryFolder folder;
    fs::create_directory(folder / "rods");
    folder.write("rods/square-8mm.toml", "about = \"Square rod, 8 mm\"\n");
    folder.write("rods/round-10.toml", "about = \"Round rod\"\n");
    const test::World world{.variables = {{"EVENSPIT_MODELS", folder.path().string()}}};
    const Ending end = run_in(world, {"models"});
    EXPECT_EQ(end.status, 0) << end.err;
    EXPECT_THAT(
        end.out,
        StartsWith("body  turkey         whole bird, high and broad in the breast; 2.5 kg to 20 kg\n"));
    EXPECT_THAT(end.out, HasSubstr("\nbody  leg of lamb    bone in, from rump to shank; 1.2 kg to 4.5 kg\n"));
    EXPECT_THAT(end.out,
                EndsWith("\nrod   round-10       Round rod\nrod   square-8mm     Square rod, 8 mm\n"));

    const json result = json::parse(run_in(world, {"models", "--json"}).out);
    const json& models = result["models"];
    ASSERT_EQ(models.size(), body::shape_names().size() + 2);
    EXPECT_EQ(models[0]["kind"], "body");
    EXPECT_EQ(models[0]["mass_min_kg"], 2.5);
    EXPECT_EQ(models[0]["mass_max_kg"], 20);
    EXPECT_FALSE(models[0].contains("file"));
    EXPECT_EQ(models.back()["kind"], "rod");
    EXPECT_EQ(models.back()["name"], "square-8mm");
    EXPECT_EQ(models.back()["about"], "Square rod, 8 mm");
    EXPECT_EQ(models.back()["file"], (folder / "rods/square-8mm.toml").string());
    EXPECT_EQ(result["tool"]["name"], "evenspit");
}

TEST(Run, ModelsThatAreNotThereAreBadInput) {
    const Ending end = run_in({.variables = {{"EVENSPIT_MODELS", "/nowhere/models"}}}, {"models"});
    EXPECT_EQ(end.status, 2);
    EXPECT_EQ(end.out, "");
    EXPECT_THAT(end.err, HasSubstr("/nowhere/models"));
}

int severity(const std::string& level) {
    return level == "stop" ? 2 : level == "care" ? 1 : 0;
}

// The laws that tie the figures of any result together.
void expect_consistent(const json& result) {
    int worst = 0;
    for (const json& finding : result.at("findings")) worst = std::max(worst, severity(finding.at("level")));
    EXPECT_EQ(severity(result.at("verdict")), worst) << "the verdict is the worst finding";

    const json& balance = result.at("balance");
    constexpr double gravity = 9.80665;
    const double size = balance.at("unbalance_size_kg_m");
    const double y = balance.at("unbalance_kg_m")[0];
    const double z = balance.at("unbalance_kg_m")[1];
    const double friction = balance.at("friction_torque_n_m");
    const double peak = balance.at("motor_torque_peak_n_m");
    EXPECT_NEAR(size, std::hypot(y, z), 1e-12);
    EXPECT_NEAR(balance.at("gravity_torque_peak_n_m"), gravity * size, 1e-12);
    EXPECT_NEAR(peak, gravity * size + friction, 1e-12);
    EXPECT_NEAR(balance.at("motor_use"), peak / balance.at("rated_torque_n_m").get<double>(), 1e-12);

    const double heavy = balance.at("heavy_side_deg").get<double>() * std::numbers::pi / 180;
    EXPECT_GE(heavy, 0);
    EXPECT_LT(heavy, 2 * std::numbers::pi);
    EXPECT_NEAR(size * std::cos(heavy), y, 1e-12);
    EXPECT_NEAR(size * std::sin(heavy), z, 1e-12);

    double most = -1e300;
    double most_at = 0;
    for (const json& point : balance.at("curve")) {
        const double turn = point[0].get<double>() * std::numbers::pi / 180;
        EXPECT_NEAR(point[1], gravity * size * std::cos(heavy + turn) + friction, 1e-9);
        if (point[1] > most) {
            most = point[1];
            most_at = point[0];
        }
    }
    EXPECT_EQ(balance.at("curve").size(), 360u);
    // The curve has a point each degree: within half a degree of its crest, or one degree at the most.
    EXPECT_LE(most, peak + 1e-12);
    EXPECT_GE(most, friction + gravity * size * std::cos(std::numbers::pi / 180));
    EXPECT_NEAR(std::remainder(most_at + heavy * 180 / std::numbers::pi, 360), 0, 1);

    double weight = 0;
    for (const json& reaction : result.at("rod").at("reactions_n")) weight += reaction.get<double>();
    EXPECT_NEAR(weight, gravity * balance.at("mass_kg").get<double>(), 1e-6)
        << "the supports carry all that turns";

    for (const json& item : result.at("items")) {
        const double mass = item.at("mass_kg");
        EXPECT_NEAR(mass, item.at("density_kg_m3").get<double>() * item.at("volume_m3").get<double>(),
                    1e-9 * mass);
    }

    const json& clearance = result.at("clearance");
    double least = 1e300;
    for (const json& surface : clearance.at("surfaces"))
        least = std::min(least, surface.at("gap_m").get<double>());
    EXPECT_EQ(clearance.at("gap_min_m"), least);

    if (result.at("grip").contains("torque_use")) {
        double worst_use = 0;
        for (const json& item : result.at("grip").at("items")) {
            const double use = item.at("torque_use");
            EXPECT_NEAR(use * item.at("torque_capacity_n_m").get<double>(), item.at("gravity_torque_n_m"),
                        1e-12);
            worst_use = std::max(worst_use, use);
        }
        EXPECT_EQ(result.at("grip").at("torque_use"), worst_use);
    }
}

TEST(Run, TheFiguresOfAResultAgree) {
    for (const SampleLoad& load : {SampleLoad{}, SampleLoad{.rated_torque = "0.1 N m"},
                                   SampleLoad{.friction_torque = "0.01 N m"}, SampleLoad{.keep = "180 mm"}}) {
        const TemporaryFolder folder;
        const Ending end = run_plain({"check", write_sample_load(folder, load).string(), "--json"});
        ASSERT_LE(end.status, 1) << end.err;
        const json result = json::parse(end.out);
        expect_consistent(result);
        EXPECT_EQ(end.status, result.at("verdict") == "stop" ? 1 : 0);
        EXPECT_NEAR(result["balance"]["unbalance_size_kg_m"], test::sample_mass_kg * test::sample_offset_m,
                    1e-9);
        EXPECT_NEAR(result["items"][0]["centre_of_mass_m"][1], test::sample_offset_m, 1e-12);
    }
}

}  // namespace
}  // namespace evenspit
