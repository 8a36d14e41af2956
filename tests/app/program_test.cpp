// SPDX-License-Identifier: MIT
// The real program, run as a shell runs it.
#include <cstdio>
#include <string>
#include <sys/wait.h>
#include <unistd.h>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "app/sample_load.h"
#include "app/verb_runner.h"
#include "report/tool.h"

namespace evenspit {
namespace {

using test::content_of;
using test::Ending;
using test::TemporaryFolder;
using test::write_sample_load;
using testing::HasSubstr;

std::string quoted(const std::string& word) {
    return "'" + word + "'";
}

// `arguments` as typed in a shell; redirections in them win over the capture.
Ending run_program(const std::string& arguments, const std::string& program = EVENSPIT_PROGRAM) {
    const TemporaryFolder folder;
    const std::string command = quoted(program) + " >" + quoted((folder / "out").string()) + " 2>" +
                                quoted((folder / "err").string()) + " " + arguments;
    const int ended = std::system(command.c_str());
    return {WIFEXITED(ended) ? WEXITSTATUS(ended) : -1, content_of(folder / "out"),
            content_of(folder / "err")};
}

TEST(Program, EveryExitStatus) {
    const TemporaryFolder folder;
    const std::string ready = quoted(write_sample_load(folder).string());
    EXPECT_EQ(run_program("check " + ready).status, 0);
    const TemporaryFolder other;
    const std::string stop = quoted(write_sample_load(other, {.rated_torque = "0.1 N m"}).string());
    EXPECT_EQ(run_program("check " + stop).status, 1);
    EXPECT_EQ(run_program("check no-such-file.toml").status, 2);
    EXPECT_EQ(run_program("check --no-such-option " + ready).status, 2);
    EXPECT_EQ(run_program("").status, 2);
    EXPECT_EQ(run_program("--help").status, 0);
    if (::access("/dev/full", W_OK) == 0) {
        const Ending full = run_program("check " + ready + " >/dev/full");
        EXPECT_EQ(full.status, 3);
        EXPECT_THAT(full.err, HasSubstr("cannot write to standard output: No space left on device"));
        EXPECT_EQ(run_program("--version >/dev/full").status, 3);
    }
    EXPECT_EQ(run_program("--version >&-").status, 3) << "a closed output takes nothing either";
}

TEST(Program, ResultsAndMessagesGoTheirOwnWays) {
    const TemporaryFolder folder;
    const Ending good = run_program("check --json " + quoted(write_sample_load(folder).string()));
    EXPECT_EQ(good.err, "");
    EXPECT_EQ(nlohmann::json::parse(good.out)["tool"]["version"], std::string(tool_version()));
    const Ending bad = run_program("chek");
    EXPECT_EQ(bad.out, "");
    EXPECT_THAT(bad.err, HasSubstr("did you mean 'check'?"));
}

TEST(Program, FindsItsModelsFromTheBuildTree) {
    const Ending end = run_program("models");
    EXPECT_EQ(end.status, 0) << end.err;
    for (const char* kind : {"body", "rod", "fork", "motor", "cooker", "material"})
        EXPECT_THAT(end.out, HasSubstr(kind));
}

TEST(Program, FindsItsModelsFromAnInstalledPrefix) {
    const TemporaryFolder prefix;
    std::filesystem::create_directories(prefix / "bin");
    std::filesystem::create_directories(prefix / "share/evenspit/models/rods");
    std::filesystem::copy_file(EVENSPIT_PROGRAM, prefix / "bin/evenspit");
    prefix.write("share/evenspit/models/rods/stick.toml", "about = \"A stick\"\n");
    const Ending end = run_program("models", (prefix / "bin/evenspit").string());
    EXPECT_EQ(end.status, 0) << end.err;
    EXPECT_THAT(end.out, testing::EndsWith("\nrod   stick          A stick\n"));
}

TEST(Program, TheSameLoadGivesTheSameBytes) {
    const TemporaryFolder folder;
    const std::string load = quoted(write_sample_load(folder).string());
    EXPECT_EQ(run_program("check --json " + load).out, run_program("check --json " + load).out);
}

}  // namespace
}  // namespace evenspit
