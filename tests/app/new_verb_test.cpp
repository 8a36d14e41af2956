// SPDX-License-Identifier: MIT
#include <filesystem>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geometry/mesh_io.h"
#include "support/meshes.h"
#include "support/temporary_folder.h"
#include "verb_runner.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;
using test::content_of;
using test::Ending;
using test::run_in;
using test::run_with_models;
using test::TemporaryFolder;
using test::World;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

const std::vector<std::string> turkey{"--roast",    "turkey",  "--mass",          "13 lb",    "--rod",
                                      "square-8mm", "--motor", "mains-gearmotor", "--cooker", "kettle-57"};

std::vector<std::string> with(std::vector<std::string> words, const std::vector<std::string>& more) {
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

/// As a cook at a terminal would answer.
Ending answer(const std::vector<std::string>& words, const std::string& answers) {
    World world = test::with_models();
    world.terminal = true;
    world.answers = answers;
    return run_in(world, words);
}

TEST(NewVerb, WritesALoadThatChecksAsItSays) {
    const TemporaryFolder folder;
    const std::string file = (folder / "supper.toml").string();
    const Ending made = run_with_models(with({"new", file, "--mountings", "64"}, turkey));
    ASSERT_EQ(made.status, 0) << made.err;
    EXPECT_THAT(made.out, HasSubstr("plan " + file));
    const Ending checked = run_with_models({"check", file, "--mountings", "64"});
    EXPECT_LE(checked.status, 1) << checked.err;
    const std::string verdict = checked.out.substr(0, checked.out.find('\n'));
    EXPECT_THAT(made.out, StartsWith(verdict));
    EXPECT_THAT(content_of(file), AllOf(HasSubstr("# "), HasSubstr("mass = \"13 lb\"")));
}

TEST(NewVerb, NamesTheFolderWhereThereAreNoModels) {
    const TemporaryFolder folder;
    World world;
    world.variables["EVENSPIT_MODELS"] = (folder / "none").string();
    const Ending ending = run_in(world, with({"new", (folder / "supper.toml").string()}, turkey));
    EXPECT_EQ(ending.status, 2);
    EXPECT_THAT(ending.err, AllOf(HasSubstr((folder / "none").string()), HasSubstr("set EVENSPIT_MODELS"),
                                  Not(HasSubstr("own"))));
}

TEST(NewVerb, WithoutATerminalItSaysWhatIsMissing) {
    const TemporaryFolder folder;
    const std::string file = (folder / "supper.toml").string();
    const Ending made = run_with_models({"new", file, "--roast", "turkey", "--rod", "own"});
    EXPECT_EQ(made.status, 2);
    EXPECT_THAT(made.err, AllOf(HasSubstr("--mass \"5.9 kg\""), HasSubstr("--rod-width \"8 mm\""),
                                HasSubstr("--cooker kettle-57"), Not(HasSubstr("--motor-speed"))));
    EXPECT_FALSE(fs::exists(file));
}

TEST(NewVerb, NeverWritesOverAFile) {
    const TemporaryFolder folder;
    const fs::path file = folder.write("supper.toml", "mine");
    const Ending made = run_with_models(with({"new", file.string()}, turkey));
    EXPECT_EQ(made.status, 2);
    EXPECT_THAT(made.err, HasSubstr("is there already; name another file"));
    EXPECT_EQ(content_of(file), "mine");
}

TEST(NewVerb, RefusesWhatItCannotTake) {
    const TemporaryFolder folder;
    const std::string file = (folder / "supper.toml").string();
    const auto said = [&](const std::vector<std::string>& words) {
        const Ending ending = run_with_models(words);
        EXPECT_EQ(ending.status, 2);
        EXPECT_FALSE(fs::exists(file));
        return ending.err;
    };
    EXPECT_THAT(said({"new"}), HasSubstr("new LOAD.toml"));
    EXPECT_THAT(said({"new", "supper.txt"}), HasSubstr("ends in .toml"));
    EXPECT_THAT(said(with({"new", file}, with(turkey, {"--temperature", "300"}))),
                AllOf(HasSubstr("--temperature"), HasSubstr("without a unit")));
    EXPECT_THAT(said({"new", file, "--roast", "turkey", "--mass", "1 lb", "--rod", "square-8mm", "--motor",
                      "battery-dc", "--cooker", "none"}),
                AllOf(HasSubstr("--mass"), HasSubstr("a turkey of 2.5 kg")));
    EXPECT_THAT(said(with({"new", file}, with(turkey, {"--rod-width", "9 mm"}))),
                HasSubstr("--rod-width does not go with the other answers"));
    EXPECT_THAT(said(with({"new", file}, with(turkey, {"--temperature", "3000 degF"}))),
                HasSubstr("--temperature"));
}

TEST(NewVerb, AsksAtATerminal) {
    const TemporaryFolder folder;
    const std::string file = (folder / "supper.toml").string();
    // A slip is asked again; an empty line takes what is usual, or passes over.
    const Ending made = answer({"new", file, "--mountings", "0"},
                               "duk\nduck\n2.6\n2.6 kg\n\n\n\n\n\nsquare-8mm\nbattery-dc\nkettle-57\n"
                               "two-tine-short\n2\n\n\n\n18:30\n");
    ASSERT_EQ(made.status, 0) << made.err;
    EXPECT_THAT(made.err, AllOf(HasSubstr("did you mean duck?"), HasSubstr("a number without a unit"),
                                HasSubstr("square-10mm")));
    const std::string text = content_of(file);
    EXPECT_THAT(text, AllOf(HasSubstr("shape = \"duck\""), HasSubstr("mass = \"2.6 kg\""),
                            HasSubstr("serve = \"18:30\""), Not(HasSubstr("stuffing"))));
}

TEST(NewVerb, AnswersThatEndEarlyWriteNothing) {
    const TemporaryFolder folder;
    const std::string file = (folder / "supper.toml").string();
    const Ending made = answer({"new", file}, "duck\n2.6 kg\n");
    EXPECT_EQ(made.status, 2);
    EXPECT_THAT(made.err, HasSubstr("nothing is written"));
    EXPECT_FALSE(fs::exists(file));
}

TEST(NewVerb, AScanIsNamedFromTheLoadsFolder) {
    const TemporaryFolder folder;
    fs::create_directory(folder / "loads");
    write_mesh(folder / "roast.ply", test::ellipsoid_mesh(0.11, 0.06, 0.06, Vec3(0, 0.004, 0)));
    const std::string file = (folder / "loads" / "supper.toml").string();
    const Ending made = run_with_models({"new", file, "--roast", (folder / "roast.ply").string(), "--rough",
                                         "no", "--mass", "1.7 kg", "--rod", "square-8mm", "--motor",
                                         "battery-dc", "--cooker", "none", "--mountings", "0"});
    ASSERT_EQ(made.status, 0) << made.err;
    EXPECT_THAT(content_of(file),
                AllOf(HasSubstr("roast.ply"), HasSubstr("scan_unit = \"m\""), Not(HasSubstr("clean"))));
    EXPECT_LE(run_with_models({"check", file, "--mountings", "0"}).status, 1);
}

}  // namespace
}  // namespace evenspit
