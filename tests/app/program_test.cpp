// SPDX-License-Identifier: MIT
// The real program, run as a shell runs it.
#include <cstdio>
#include <filesystem>
#include <string>
#include <sys/wait.h>
#include <unistd.h>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "app/sample_load.h"
#include "app/verb_runner.h"
#include "geometry/mesh_io.h"
#include "report/tool.h"
#include "support/meshes.h"

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

// What reads the output has ended, as head does: quiet, with the status of a process that it ended; but a
// file that was asked for is not there, and that is told.
TEST(Program, AnOutputThatNobodyReadsIsNoFault) {
    const TemporaryFolder folder;
    const std::string load = quoted(write_sample_load(folder).string());
    int ends[2];
    ASSERT_EQ(::pipe(ends), 0);
    constexpr int in_shell = 9;  // shells take one digit
    ASSERT_EQ(::dup2(ends[1], in_shell), in_shell);
    ::close(ends[0]);
    const Ending closed = run_program("check " + load + " >&9");
    EXPECT_EQ(closed.status, 141);
    EXPECT_EQ(closed.err, "");
    const Ending unwritten = run_program("plan " + load + " --mountings 0 -o " +
                                         quoted((folder / "better.toml").string()) + " >&9");
    EXPECT_EQ(unwritten.status, 141);
    EXPECT_THAT(unwritten.err, HasSubstr("better.toml' was not written, as standard output was closed"));
    EXPECT_FALSE(std::filesystem::exists(folder / "better.toml"));
    ::close(ends[1]);
    ::close(in_shell);
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

// What a program or a module asks the system's loader for, and all that those ask for in turn.
std::string linked_to(const std::string& file) {
    const TemporaryFolder folder;
    const std::string list = (folder / "list").string();
    EXPECT_EQ(std::system(("ldd " + quoted(file) + " >" + quoted(list)).c_str()), 0);
    return content_of(list);
}

// Opening Open3D takes longer than most verbs do: only who meets a raw scan shall wait for it.
TEST(Program, LoadsNoScanLibraryBeforeARawScan) {
    const std::string program = linked_to(EVENSPIT_PROGRAM), module = linked_to(EVENSPIT_SCAN_LIBRARY);
    EXPECT_THAT(program, HasSubstr("libstdc++.so"));
    EXPECT_THAT(module, HasSubstr("libOpen3D.so"));
    for (const char* company :
         {"evenspit_scan_library", "Open3D", "libvtk", "libgomp", "libfilament", "libhdf5"})
        EXPECT_THAT(program, testing::Not(HasSubstr(company)));
}

// A scan that has to be wrapped, as it was taken of an ellipsoid that lost its end.
std::string raw_scan(const TemporaryFolder& folder) {
    TriangleMesh mesh = test::ellipsoid_mesh(0.15, 0.1, 0.08, Vec3::Zero(), 96, 64);
    std::erase_if(mesh.triangles, [&](const Triangle& t) { return mesh.corner(t, 0).x() > 0.12; });
    write_mesh(folder / "raw.ply", mesh);
    return "scan " + quoted((folder / "raw.ply").string()) + " --scan-unit m -o " +
           quoted((folder / "body.ply").string());
}

TEST(Program, FindsItsScanLibraryFromTheBuildTreeAndFromAnInstalledPrefix) {
    const TemporaryFolder folder;
    const Ending built = run_program(raw_scan(folder));
    EXPECT_EQ(built.status, 0) << built.err;
    const TemporaryFolder prefix;
    const std::string install = std::string("cmake --install ") + quoted(EVENSPIT_BINARY_DIR) + " --prefix " +
                                quoted(prefix.path().string()) + " >" + quoted((prefix / "log").string()) +
                                " 2>&1";
    ASSERT_EQ(std::system(install.c_str()), 0) << content_of(prefix / "log");
    const TemporaryFolder other;
    const Ending installed = run_program(raw_scan(other), (prefix / "bin/evenspit").string());
    EXPECT_EQ(installed.status, 0) << installed.err;
    EXPECT_EQ(content_of(folder / "body.ply"), content_of(other / "body.ply"));
}

TEST(Program, TellsWhereTheScanLibraryIsMissingOrUnfit) {
    const TemporaryFolder folder;
    const std::string scan = raw_scan(folder), alone = (folder / "evenspit").string();
    std::filesystem::copy_file(EVENSPIT_PROGRAM, alone);
    const Ending missing = run_program(scan, alone);
    EXPECT_EQ(missing.status, 2);
    EXPECT_THAT(missing.err,
                HasSubstr("no scan library that fits (libevenspit_scan_library.so: cannot open"));
    EXPECT_THAT(missing.err, HasSubstr("install Evenspit again"));
    EXPECT_FALSE(std::filesystem::exists(folder / "body.ply"));
    EXPECT_EQ(run_program("--version", alone).status, 0);
    // Any other library in its place.
    const std::string listed = linked_to(EVENSPIT_PROGRAM);
    const std::size_t from = listed.find("libm.so.6 => ") + 13;
    std::filesystem::copy_file(listed.substr(from, listed.find(' ', from) - from),
                               folder / "libevenspit_scan_library.so");
    const Ending unfit = run_program(scan, alone);
    EXPECT_EQ(unfit.status, 2);
    EXPECT_THAT(unfit.err, HasSubstr("undefined symbol: evenspit_scan_library"));
}

TEST(Program, TheSameLoadGivesTheSameBytes) {
    const TemporaryFolder folder;
    const std::string load = quoted(write_sample_load(folder).string());
    EXPECT_EQ(run_program("check --json " + load).out, run_program("check --json " + load).out);
}

}  // namespace
}  // namespace evenspit
