// SPDX-License-Identifier: MIT
// The verb `scan`, through run().
#include <algorithm>
#include <cmath>
#include <csignal>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "app/verb_runner.h"
#include "geometry/mesh_io.h"
#include "geometry/moments.h"
#include "geometry/scan_io.h"
#include "geometry/solid_check.h"
#include "scan_cases.h"
#include "support/meshes.h"
#include "support/temporary_folder.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;
using test::Ending;
using test::run_in;
using test::run_plain;
using test::TemporaryFolder;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;

// An ellipsoid without its cap at +z, in millimetres.
std::string open_scan(const TemporaryFolder& folder) {
    TriangleMesh mesh = scaled(test::ellipsoid_mesh(0.15, 0.1, 0.08, Vec3::Zero(), 96, 64), 1000);
    std::erase_if(mesh.triangles, [&](const Triangle& t) { return mesh.corner(t, 0).z() > 76; });
    write_mesh(folder / "raw.stl", mesh);
    return (folder / "raw.stl").string();
}

std::size_t files_in(const TemporaryFolder& folder) {
    return std::size_t(std::distance(fs::directory_iterator(folder.path()), {}));
}

TEST(ScanVerb, WritesABodyAndTellsOfIt) {
    const TemporaryFolder folder;
    const std::string body = (folder / "body.ply").string();
    const Ending end =
        run_plain({"scan", open_scan(folder), "-o", body, "--scan-unit", "mm", "--mass", "5 kg"});
    ASSERT_EQ(end.status, 0) << end.err;
    EXPECT_EQ(end.err, "");
    for (const char* what :
         {"raw.stl", "volume", "996 kg/m³", "closed, 0 self-intersections", "scan to body"})
        EXPECT_THAT(end.out, HasSubstr(what));
    const MeshFile file = read_mesh(body);
    EXPECT_TRUE(check_solid(file.mesh).ok());
    const double volume = 4.0 / 3 * M_PI * 0.15 * 0.1 * 0.08;
    EXPECT_NEAR(volume_moments(file.mesh).amount, volume, 0.01 * volume)
        << "metres, whatever the scan was in";
    EXPECT_EQ(files_in(folder), 2u);
}

TEST(ScanVerb, JsonAndTheFilesOwnFrame) {
    const TemporaryFolder folder;
    TriangleMesh mesh = test::ellipsoid_mesh(0.15, 0.1, 0.08, Vec3(1, 2, 3), 96, 64);
    write_mesh(folder / "raw.ply", mesh);
    const std::string body = (folder / "body.ply").string();
    const Ending end =
        run_plain({"scan", (folder / "raw.ply").string(), "-o", body, "--frame", "file", "--json"});
    ASSERT_EQ(end.status, 0) << end.err;
    const auto json = nlohmann::json::parse(end.out);
    EXPECT_EQ(json["closed"], true);
    EXPECT_EQ(json["self_intersections"], 0);
    EXPECT_EQ(json["passes"].size(), 1u);
    EXPECT_LT((volume_moments(read_mesh(body).mesh).centre - Vec3(1, 2, 3)).norm(), 1e-6);
    const Ending moved =
        run_plain({"scan", (folder / "raw.ply").string(), "-o", body, "--axis", "0,1,0", "--up", "0,0,1"});
    ASSERT_EQ(moved.status, 0) << moved.err;
    EXPECT_NEAR(bounds(read_mesh(body).mesh).sizes().y(), 0.3, 1e-3) << "file's -x is the item's +y";
}

// What the scan left open travels in the body's file: a load that takes the body counts it as one that takes
// the scan does.
TEST(ScanVerb, TheLoadHearsWhatTheScanLeftOpen) {
    const TemporaryFolder folder;
    open_scan(folder);
    const std::string body = (folder / "body.ply").string();
    ASSERT_EQ(run_plain({"scan", (folder / "raw.stl").string(), "-o", body, "--scan-unit", "mm"}).status, 0);
    const auto uncertainty = [&](const std::string& item) {
        const fs::path load =
            folder.write("load.toml",
                         "[rod]\nmodel = \"square-10mm\"\n[motor]\nmodel = \"mains-gearmotor\"\n"
                         "[cooker]\nmodel = \"kettle-57\"\n[[item]]\nmass = \"5 kg\"\nat = \"340 mm\"\n" +
                             item);
        const Ending end = run_in(test::with_models(), {"check", load.string(), "--json"});
        EXPECT_LT(end.status, 2) << end.err;
        return nlohmann::json::parse(end.out)["uncertainty"];
    };
    const auto of_body = uncertainty("scan = \"body.ply\"\n");
    const auto of_scan = uncertainty("scan = \"raw.stl\"\nscan_unit = \"mm\"\nclean = true\n");
    for (const char* what : {"gravity_torque_p95_n_m", "gravity_torque_p95_seen_n_m"})
        EXPECT_NEAR(of_body[what].get<double>(), of_scan[what].get<double>(), 1e-12) << what;
    EXPECT_GT(of_body["gravity_torque_p95_n_m"], of_body["gravity_torque_p95_seen_n_m"]);
    // Without the comment nothing is known, and the figure is that of all seen.
    const MeshFile file = read_mesh(body);
    write_mesh(body, file.mesh);
    const auto plain = uncertainty("scan = \"body.ply\"\n");
    EXPECT_FALSE(plain.contains("gravity_torque_p95_seen_n_m"));
    EXPECT_EQ(plain["gravity_torque_p95_n_m"], of_body["gravity_torque_p95_seen_n_m"]);
}

// Every number of two results, wherever it stands: how far they are apart, in the larger of them.
void expect_same_figures(const nlohmann::json& one, const nlohmann::json& other, const std::string& at) {
    if (one.is_number() && other.is_number()) {
        const double a = one, b = other;
        EXPECT_NEAR(a, b, 1e-6 * std::max({std::abs(a), std::abs(b), 1e-6})) << at;
        return;
    }
    if (!one.is_structured()) return;
    EXPECT_EQ(one.size(), other.size()) << at;
    for (const auto& [key, value] : one.items()) {
        if (key == "remarks" || key == "file") continue;
        const auto& beside = one.is_array()
                                 ? (std::stoul(key) < other.size() ? other[std::stoul(key)] : nullptr)
                                 : other.value(key, nlohmann::json());
        expect_same_figures(value, beside, at + "/" + key);
    }
}

// One road: the file that `scan` writes, hollow, parts and all, makes the same load as the raw scan does.
TEST(ScanVerb, ItsBodyMakesTheLoadThatTheRawScanMakes) {
    const TemporaryFolder folder;
    const test::TrueBody bird = test::random_bird(2);
    std::string cloud;
    for (const Vec3& p : test::simulate_scan(bird.skin, test::random_scan(2)).mesh.vertices)
        cloud += fmt::format("{} {} {}\n", p.x(), p.y(), p.z());
    folder.write("raw.xyz", cloud);
    const std::string mass = fmt::format("{:.3f} kg", 0.86 * volume_moments(bird.skin).amount * 1070);
    const std::string body = (folder / "body.ply").string();
    ASSERT_EQ(run_plain({"scan", (folder / "raw.xyz").string(), "-o", body, "--mass", mass}).status, 0);
    const auto of = [&](const std::string& item) {
        const fs::path load = folder.write(
            "load.toml",
            "[rod]\nmodel = \"square-8mm\"\n[motor]\nmodel = \"mains-gearmotor\"\n"
            "[cooker]\nmodel = \"gas-grill\"\n"
            "[[item]]\nname = \"bird\"\nat = \"340 mm\"\nmass = \"" +
                mass + "\"\n" + item +
                "[[fork]]\nmodel = \"two-long-two-short\"\nat = \"250 mm\"\npoints = \"point\"\n"
                "[[fork]]\nmodel = \"two-long-two-short\"\nat = \"430 mm\"\npoints = \"drive\"\n");
        const Ending end = run_in(test::with_models(), {"check", load.string(), "--json"});
        EXPECT_LT(end.status, 2) << end.err;
        auto json = nlohmann::json::parse(end.out);
        // What cleaning says of the scan is told once, by `scan` or by the load that cleans it.
        auto& findings = json["findings"];
        findings.erase(std::remove_if(findings.begin(), findings.end(),
                                      [](const auto& finding) { return finding["code"] == "assumption"; }),
                       findings.end());
        return json;
    };
    const auto of_scan = of("scan = \"raw.xyz\"\nclean = true\n"), of_body = of("scan = \"body.ply\"\n");
    expect_same_figures(of_scan, of_body, "");
    expect_same_figures(of_body, of_scan, "");
    const MeshFile file = read_mesh(body);
    EXPECT_NE(file.bird, "");
    EXPECT_THAT(file.region_names, testing::Contains("cavity wall"));
    ASSERT_EQ(file.unseen.size(), file.mesh.triangles.size());
    EXPECT_GT(std::count(file.unseen.begin(), file.unseen.end(), 1.F), 100);
    EXPECT_GT(std::count(file.unseen.begin(), file.unseen.end(), 0.F), 1000);
    // As a raw scan it is the skin that a camera sees, without the hollow inside.
    EXPECT_EQ(check_solid(read_scan_file(body).mesh).components, 1);
    const Ending again = run_plain({"scan", body, "-o", (folder / "again.ply").string(), "--mass", mass});
    EXPECT_EQ(again.status, 0) << again.err;
    EXPECT_THAT(again.out, HasSubstr("closed already"));
}

TEST(ScanVerb, AThingBesideIsNamedAndMeasured) {
    const TemporaryFolder folder;
    const std::string body = (folder / "body.ply").string();
    const auto refused = [&](const std::string& beside) {
        const Ending end =
            run_plain({"scan", open_scan(folder), "-o", body, "--scan-unit", "mm", "--beside", beside});
        EXPECT_EQ(end.status, 2);
        return end.err;
    };
    EXPECT_THAT(refused("jar 73 mm"),
                HasSubstr("a can and how wide it is, or a block and how high it stands"));
    EXPECT_THAT(refused("can 73 kg"), HasSubstr("length"));
    EXPECT_THAT(refused("can 73 mm"), HasSubstr("no board"));
    EXPECT_FALSE(fs::exists(body));
}

TEST(ScanVerb, WhatItRestsOnIsOneOfFour) {
    const TemporaryFolder folder;
    const std::string body = (folder / "body.ply").string();
    const std::string raw = open_scan(folder);
    const Ending wrong = run_plain({"scan", raw, "-o", body, "--scan-unit", "mm", "--rests-on", "sofa"});
    EXPECT_EQ(wrong.status, 2);
    EXPECT_THAT(wrong.err, HasSubstr("board, rack, stand or tin"));
    EXPECT_EQ(run_plain({"scan", raw, "-o", body, "--scan-unit", "mm", "--rests-on", "rack"}).status, 0);
}

TEST(ScanVerb, WhatItIsIsOneOfThree) {
    const TemporaryFolder folder;
    const std::string body = (folder / "body.ply").string();
    const std::string raw = open_scan(folder);
    const Ending wrong = run_plain({"scan", raw, "-o", body, "--scan-unit", "mm", "--kind", "fish"});
    EXPECT_EQ(wrong.status, 2);
    EXPECT_THAT(wrong.err, HasSubstr("bird, roast or ribs"));
    EXPECT_EQ(run_plain({"scan", raw, "-o", body, "--scan-unit", "mm", "--kind", "roast"}).status, 0);
}

TEST(ScanVerb, StagesAreShownOnATerminal) {
    const TemporaryFolder folder;
    const std::vector<std::string> words{
        "scan", open_scan(folder), "-o", (folder / "body.ply").string(), "--scan-unit", "mm"};
    const Ending end = run_in({.terminal = true}, words);
    for (const char* stage : {"reading raw.stl", "looking for the board", "filling holes", "checking"})
        EXPECT_THAT(end.err, HasSubstr(stage));
    std::vector<std::string> quiet = words;
    quiet.emplace_back("--quiet");
    EXPECT_EQ(run_in({.terminal = true}, quiet).err, "");
}

TEST(ScanVerb, BadInputLeavesNothingBehind) {
    const TemporaryFolder folder;
    const fs::path body = folder.write("body.ply", "what stood there");
    const auto refused = [&](const std::string& raw, const std::vector<std::string>& more = {}) {
        std::vector<std::string> words{"scan", raw, "-o", body.string()};
        words.insert(words.end(), more.begin(), more.end());
        const Ending end = run_plain(words);
        EXPECT_EQ(end.status, 2);
        EXPECT_EQ(end.out, "");
        EXPECT_EQ(test::content_of(body), "what stood there");
        return end.err;
    };
    EXPECT_THAT(refused((folder / "none.ply").string()), HasSubstr("no such file"));
    EXPECT_THAT(refused(folder.write("cut.stl", "solid a\nfacet normal 0 0 1\n").string()),
                StartsWith((folder / "cut.stl").string()));
    EXPECT_THAT(refused(folder.write("nan.xyz", "nan nan nan\n").string()), HasSubstr("finite"));
    EXPECT_THAT(refused(folder.write("none.xyz", "0\n").string()), HasSubstr("no points"));
    EXPECT_THAT(refused(folder.write("huge.pts", "4000000000\n0 0 0\n").string()),
                HasSubstr("4000000000 points"));
    EXPECT_THAT(refused(open_scan(folder), {"--scan-unit", "m"}), HasSubstr("looks like"));
    EXPECT_EQ(files_in(folder), 6u);
}

TEST(ScanVerb, TheOutputIsNotTheScan) {
    const TemporaryFolder folder;
    write_mesh(folder / "raw.ply", test::ellipsoid_mesh(0.15, 0.1, 0.08, Vec3::Zero()));
    const std::string raw = (folder / "raw.ply").string();
    const Ending end = run_plain({"scan", raw, "-o", raw});
    EXPECT_EQ(end.status, 2);
    EXPECT_THAT(end.err, HasSubstr("is what the result is made from"));
}

// The real program, stopped while it works.
TEST(ScanVerb, APlaceThatTakesNoFileIsToldBeforeTheWork) {
    const TemporaryFolder folder;
    std::ofstream(folder / "bad.ply") << "what is read first would be complained of";
    const Ending end =
        run_plain({"scan", (folder / "bad.ply").string(), "-o", (folder / "missing/body.ply").string()});
    EXPECT_EQ(end.status, 2);
    EXPECT_THAT(end.err, StartsWith((folder / "missing/body.ply").string()));
    EXPECT_THAT(end.out, IsEmpty());
}

TEST(ScanVerb, ControlCLeavesNothingBehind) {
    const TemporaryFolder folder;
    const std::string raw = open_scan(folder), body = (folder / "body.ply").string();
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
        std::freopen("/dev/null", "w", stdout);
        ::execl(EVENSPIT_PROGRAM, EVENSPIT_PROGRAM, "scan", raw.c_str(), "-o", body.c_str(), "--scan-unit",
                "mm", nullptr);
        ::_exit(127);
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(150));
    ::kill(child, SIGINT);
    int status = 0;
    ASSERT_EQ(::waitpid(child, &status, 0), child);
    EXPECT_TRUE(WIFSIGNALED(status)) << "it was faster than the test, or took the signal for nothing";
    EXPECT_EQ(files_in(folder), 1u);
}

}  // namespace
}  // namespace evenspit
