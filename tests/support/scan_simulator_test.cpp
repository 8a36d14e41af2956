// SPDX-License-Identifier: MIT
#include "support/scan_simulator.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geometry/solid_check.h"
#include "support/meshes.h"

namespace evenspit::test {
namespace {

constexpr double degrees = std::numbers::pi / 180;

// A block of 20 × 12 × 8 cm: flat sides make exact checks easy.
TriangleMesh block() {
    return box_mesh({-0.10, -0.06, 0.01}, {0.10, 0.06, 0.09});
}

ScanOptions plain() {
    ScanOptions options;
    options.own_axes = false;
    options.camera.width = 160;
    options.camera.height = 120;
    return options;
}

// Points of one kind, taken back to the body frame, m.
std::vector<Vec3> points_of(const SimulatedScan& scan, ScannedThing thing) {
    const Pose back = scan.body_pose.inverse();
    std::vector<Vec3> points;
    for (std::size_t v = 0; v < scan.mesh.vertices.size(); ++v) {
        if (scan.things[v] == thing)
            points.push_back(back * Vec3(scan.metres_per_unit * scan.mesh.vertices[v]));
    }
    return points;
}

// How far a point lies from the block's surface, negative inside.
double block_distance(const Vec3& point) {
    const Vec3 q = (point - Vec3(0, 0, 0.05)).cwiseAbs() - Vec3(0.10, 0.06, 0.04);
    return q.cwiseMax(0).norm() + std::min(q.maxCoeff(), 0.0);
}

double mean(const std::vector<double>& values) {
    double sum = 0;
    for (const double value : values) sum += value;
    return sum / double(values.size());
}

double deviation(const std::vector<double>& values) {
    const double middle = mean(values);
    double sum = 0;
    for (const double value : values) sum += (value - middle) * (value - middle);
    return std::sqrt(sum / double(values.size() - 1));
}

TEST(ScanSimulator, PerfectCameraPutsEveryPointOnWhatItIs) {
    ScanOptions options = plain();
    options.own_axes = true;  // the truth must hold in any frame
    const SimulatedScan scan = simulate_scan(block(), options);
    const std::vector<Vec3> body = points_of(scan, ScannedThing::body);
    ASSERT_GT(body.size(), 5000u);
    for (const Vec3& p : body) EXPECT_NEAR(block_distance(p), 0, 1e-12);
    const std::vector<Vec3> board = points_of(scan, ScannedThing::board);
    ASSERT_GT(board.size(), 5000u);
    // The block was put down by its lowest face; the board's rim and top are all there is of the board.
    for (const Vec3& p : board) EXPECT_LT(p.z(), 0.01 + 1e-12);
    EXPECT_TRUE((scan.body_pose * Vec3(0, 0, 0.01)).isApprox(scan.board_point, 1e-12));
}

TEST(ScanSimulator, SameSeedSameScan) {
    ScanOptions options = plain();
    options.camera.noise_m = 0.002;
    options.camera.dropout = 0.1;
    options.surroundings.clutter = 3;
    options.own_axes = true;
    const SimulatedScan a = simulate_scan(block(), options), b = simulate_scan(block(), options);
    EXPECT_EQ(a.mesh.vertices, b.mesh.vertices);
    EXPECT_EQ(a.things, b.things);
    options.seed = 2;
    EXPECT_NE(a.mesh.vertices, simulate_scan(block(), options).mesh.vertices);
}

TEST(ScanSimulator, UndersideIsNotSeen) {
    const SimulatedScan scan = simulate_scan(block(), plain());
    for (const Vec3& p : points_of(scan, ScannedThing::body)) EXPECT_GT(p.z(), 0.01 + 1e-9);
    // Area seen: all but the bottom of 20 × 12.
    const double bottom = 0.20 * 0.12, all = 2 * (bottom + 0.20 * 0.08 + 0.12 * 0.08);
    EXPECT_NEAR(scan.seen_share, (all - bottom) / all, 1e-12);
}

TEST(ScanSimulator, TurnedOverShowsWhatLayBelow) {
    ScanOptions options = plain();
    options.lies = turned_over(options.lies, 30);
    const SimulatedScan scan = simulate_scan(block(), options);
    std::size_t bottom = 0;
    for (const Vec3& p : points_of(scan, ScannedThing::body)) {
        bottom += std::abs(p.z() - 0.01) < 1e-9;
        EXPECT_LT(p.z(), 0.09 - 1e-9);
    }
    EXPECT_GT(bottom, 1000u);
    // Half over about x, then askew about the vertical.
    const Vec3 x = options.lies * Vec3::UnitX();
    EXPECT_NEAR(x.z(), 0, 1e-12);
    EXPECT_NEAR(std::atan2(x.y(), x.x()), 30 * degrees, 1e-12);
    EXPECT_NEAR((options.lies * Vec3::UnitZ()).z(), -1, 1e-12);
}

TEST(ScanSimulator, OneSidedWalkLeavesTheBackUnseen) {
    ScanOptions options = plain();
    options.rounds = {{0.5, 20, -40, 80, 6}};  // about +x only
    for (const Vec3& p : points_of(simulate_scan(block(), options), ScannedThing::body))
        EXPECT_GT(p.x(), -0.10 + 1e-9);
}

TEST(ScanSimulator, NearThingsHideFarOnes) {
    // A post before a wall, seen from straight ahead: the wall has a stripe missing, wider than the post.
    TriangleMesh body = box_mesh({-0.01, -0.15, 0}, {0.01, 0.15, 0.10});
    const TriangleMesh post = box_mesh({0.10, -0.02, 0}, {0.12, 0.02, 0.12});
    const auto first = std::int32_t(body.vertices.size());
    body.vertices.insert(body.vertices.end(), post.vertices.begin(), post.vertices.end());
    for (const Triangle& t : post.triangles)
        body.triangles.push_back({t[0] + first, t[1] + first, t[2] + first});
    ScanOptions options = plain();
    options.surroundings.board = false;
    options.rounds = {{0.5, 0, 0, 360, 1}};
    std::size_t wall = 0;
    for (const Vec3& p : points_of(simulate_scan(body, options), ScannedThing::body)) {
        if (p.x() > 0.05) continue;
        ++wall;
        EXPECT_GT(std::abs(p.y()), 0.02);
    }
    EXPECT_GT(wall, 500u);
}

TEST(ScanSimulator, NoiseHasTheStatedSizeAndGrowsWithTheSquareOfDistance) {
    for (const double distance : {0.4, 0.8}) {
        ScanOptions options = plain();
        options.surroundings.board = false;
        options.camera.noise_m = 0.001;
        options.camera.noise_distance_m = 0.4;
        options.camera.field_of_view_deg = 12;
        options.rounds = {{distance, 90, 0, 360, 1}};
        std::vector<double> errors;  // from straight above, on the flat top: along z
        for (const Vec3& p : points_of(simulate_scan(block(), options), ScannedThing::body))
            errors.push_back(p.z() - 0.09);
        ASSERT_GT(errors.size(), 5000u);
        // The top is 4 cm nearer than the middle; the standard error of σ is 1/√(2n) < 1 %.
        const double sigma = 0.001 * std::pow((distance - 0.04) / 0.4, 2);
        EXPECT_NEAR(deviation(errors), sigma, 0.04 * sigma);
        EXPECT_NEAR(mean(errors), 0, 0.05 * sigma);
    }
}

TEST(ScanSimulator, WavesAreSharedByNeighbours) {
    ScanOptions options = plain();
    options.surroundings.board = false;
    options.camera.waviness_m = 0.002;
    options.camera.field_of_view_deg = 12;
    options.rounds = {{0.5, 90, 0, 360, 1}};
    const std::vector<Vec3> points = points_of(simulate_scan(block(), options), ScannedThing::body);
    std::vector<double> errors, steps;
    for (std::size_t k = 0; k < points.size(); ++k) {
        errors.push_back(points[k].z());
        if (k > 0) steps.push_back(points[k].z() - points[k - 1].z());
    }
    EXPECT_GT(deviation(errors), 0.0008);
    EXPECT_LT(deviation(steps), deviation(errors) / 4);
}

TEST(ScanSimulator, GrazingSurfacesGiveNothing) {
    ScanOptions options = plain();
    options.camera.grazing_deg = 60;
    options.normals = true;
    options.rounds = {{0.5, 30, 20, 360, 1}};
    const SimulatedScan scan = simulate_scan(ellipsoid_mesh(0.12, 0.08, 0.06, Vec3::Zero()), options);
    ASSERT_EQ(scan.eyes.size(), 1u);
    double least = 1;
    for (std::size_t v = 0; v < scan.mesh.vertices.size(); ++v) {
        const Vec3 toward = (scan.eyes[0] - scan.mesh.vertices[v]).normalized();
        least = std::min(least, toward.dot(scan.normals[v]));
    }
    EXPECT_GE(least, std::cos(60 * degrees) - 1e-9);
    EXPECT_LT(least, std::cos(55 * degrees));  // and not much stricter than stated
}

TEST(ScanSimulator, PixelsAreLostAtTheStatedRate) {
    ScanOptions options = plain();
    const double all = double(simulate_scan(block(), options).mesh.vertices.size());
    options.camera.dropout = 0.3;
    EXPECT_NEAR(double(simulate_scan(block(), options).mesh.vertices.size()) / all, 0.7, 0.01);
}

TEST(ScanSimulator, PatchesTearHoles) {
    ScanOptions options = plain();
    const std::size_t all = simulate_scan(block(), options).mesh.vertices.size();
    options.camera.patches = 5;
    const std::size_t left = simulate_scan(block(), options).mesh.vertices.size();
    EXPECT_LT(left, all);
    EXPECT_GT(left, all / 2);
}

TEST(ScanSimulator, FlyingPixelsHangBetweenFrontAndBack) {
    ScanOptions options = plain();
    options.camera.flying_share = 0.5;
    const std::vector<Vec3> flying = points_of(simulate_scan(block(), options), ScannedThing::flying);
    ASSERT_GT(flying.size(), 100u);
    const auto off = std::count_if(flying.begin(), flying.end(),
                                   [](const Vec3& p) { return block_distance(p) > 0.001 && p.z() > 0.011; });
    EXPECT_GT(off, std::ptrdiff_t(flying.size() / 4));
}

TEST(ScanSimulator, WarpedBoardLiesUnderTheBody) {
    ScanOptions options = plain();
    options.surroundings.board_sag_m = 0.006;
    const SimulatedScan scan = simulate_scan(block(), options);
    double low = 1, high = -1;
    for (std::size_t v = 0; v < scan.mesh.vertices.size(); ++v) {
        if (scan.things[v] != ScannedThing::board) continue;
        low = std::min(low, scan.mesh.vertices[v].z());
        high = std::max(high, scan.mesh.vertices[v].z());
    }
    EXPECT_GT(high - std::max(low, 0.0), 0.003);
    // The block stands on its edges in the dip: its floor at the height of the board under its corners.
    const double corner = 0.006 * (std::pow(0.10 / 0.30, 2) + std::pow(0.06 / 0.225, 2)) / 2;
    EXPECT_NEAR((scan.body_pose * Vec3(0, 0, 0.01)).z(), corner, 1e-12);
}

TEST(ScanSimulator, ClutterStandsClearOfTheBody) {
    ScanOptions options = plain();
    options.surroundings.clutter = 6;
    options.surroundings.clutter_gap_m = 0.03;
    const std::vector<Vec3> clutter = points_of(simulate_scan(block(), options), ScannedThing::clutter);
    ASSERT_GT(clutter.size(), 200u);
    for (const Vec3& p : clutter) EXPECT_GT(std::hypot(p.x(), p.y()), std::hypot(0.10, 0.06) + 0.03);
}

TEST(ScanSimulator, DriftMovesWhatIsSeenLater) {
    ScanOptions options = plain();
    options.drift_m = 0.01;
    options.drift_deg = 1;
    options.round_jump_m = 0.01;
    const SimulatedScan scan = simulate_scan(block(), options);
    std::vector<double> off;
    for (const Vec3& p : points_of(scan, ScannedThing::body)) off.push_back(std::abs(block_distance(p)));
    EXPECT_GT(mean(off), 0.002);
    EXPECT_LT(mean(off), 0.05);
}

TEST(ScanSimulator, WritesInTheUnitAskedFor) {
    ScanOptions options = plain();
    const SimulatedScan metres = simulate_scan(block(), options);
    options.metres_per_unit = 0.0254;
    const SimulatedScan inches = simulate_scan(block(), options);
    ASSERT_EQ(metres.mesh.vertices.size(), inches.mesh.vertices.size());
    EXPECT_TRUE(metres.mesh.vertices[77].isApprox(0.0254 * inches.mesh.vertices[77], 1e-12));
}

TEST(ScanSimulator, GivesExactlyAsManyPointsAsAskedFor) {
    ScanOptions options = plain();
    options.normals = true;
    options.points = 12345;
    const SimulatedScan scan = simulate_scan(block(), options);
    EXPECT_EQ(scan.mesh.vertices.size(), 12345u);
    EXPECT_EQ(scan.normals.size(), 12345u);
    EXPECT_EQ(scan.things.size(), 12345u);
}

TEST(ScanSimulator, DepthSheetsAreOpenFaceTheEyeAndDoNotBridgeSilhouettes) {
    ScanOptions options = plain();
    options.form = ScanForm::depth_sheets;
    options.rounds = {{0.5, 40, 10, 360, 1}};
    const SimulatedScan scan = simulate_scan(block(), options);
    ASSERT_GT(scan.mesh.triangles.size(), 5000u);
    const SolidReport report = check_solid(scan.mesh);
    EXPECT_EQ(report.fault, SolidFault::boundary);
    for (const Triangle& t : scan.mesh.triangles) {
        const Vec3 a = scan.mesh.corner(t, 0), b = scan.mesh.corner(t, 1), c = scan.mesh.corner(t, 2);
        EXPECT_GT((b - a).cross(c - a).dot(scan.eyes[0] - a), 0);
        EXPECT_LT(std::max((b - a).norm(), (c - a).norm()), 0.03);
    }
}

TEST(ScanSimulator, RefusesOptionsOutOfRange) {
    ScanOptions options = plain();
    options.camera.dropout = 1;
    EXPECT_THROW(simulate_scan(block(), options), std::invalid_argument);
    EXPECT_THROW(simulate_scan(TriangleMesh{}, plain()), std::invalid_argument);
    options = plain();
    options.rounds.clear();
    EXPECT_THROW(simulate_scan(block(), options), std::invalid_argument);
}

}  // namespace
}  // namespace evenspit::test
