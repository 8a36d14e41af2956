// SPDX-License-Identifier: MIT
#include "scan/board.h"

#include <cmath>
#include <numbers>
#include <random>

#include <gtest/gtest.h>

#include "made_points.h"

namespace evenspit::scan {
namespace {

using test::roast_scan;
using test::scattered;
using test::SimulatedScan;

double angle_deg(const Vec3& a, const Vec3& b) {
    return std::atan2(a.cross(b).norm(), a.dot(b)) * 180 / std::numbers::pi;
}

PointSet points_of(const SimulatedScan& scan) {
    return {scan.mesh.vertices, {}, {}};
}

TEST(FindBoard, FindsATiltedOneAndItsUpSide) {
    const SimulatedScan scan = roast_scan({});
    const auto board = find_board(points_of(scan));
    ASSERT_TRUE(board);
    EXPECT_LT(angle_deg(board->to_board.linear().row(2), scan.board_up), 0.3);
    EXPECT_NEAR(board->above(board->to_board * scan.board_point), 0, 5e-4);
    // A place 70 mm over the middle of the board.
    EXPECT_NEAR(board->above(board->to_board * (scan.board_point + 0.07 * scan.board_up)), 0.07, 5e-4);
    EXPECT_GT(board->share, 0.3);
    EXPECT_LT(board->noise, 0.003);
}

TEST(FindBoard, FollowsAWarpedOne) {
    const SimulatedScan scan = roast_scan({.sag_m = 0.006});
    const auto board = find_board(points_of(scan));
    ASSERT_TRUE(board);
    // The middle lies lower than the rim; both are met.
    EXPECT_NEAR(board->above(board->to_board * scan.board_point), 0, 1e-3);
    EXPECT_GT(board->surface[3] + board->surface[5], 0.01);
}

TEST(FindBoard, DoesNotMindTheUnit) {
    SimulatedScan scan = roast_scan({});
    for (Vec3& p : scan.mesh.vertices) p *= 1000;
    const auto board = find_board(points_of(scan));
    ASSERT_TRUE(board);
    EXPECT_NEAR(board->above(board->to_board * (1000 * scan.board_point)), 0, 0.5);
}

TEST(FindBoard, NoisyBoardsAreBoardsToo) {
    const SimulatedScan scan = roast_scan({.noise_m = 0.004, .sag_m = 0.006});
    EXPECT_TRUE(find_board(points_of(scan)));
}

TEST(FindBoard, ABodyInTheAirHasNone) {
    EXPECT_FALSE(
        find_board({scattered(test::ellipsoid_mesh(0.15, 0.1, 0.08, Vec3::Zero()), 20000, 0.001), {}, {}}));
    EXPECT_FALSE(find_board({}));
}

TEST(FindBoard, ABodysOwnFlatSideIsNone) {
    EXPECT_FALSE(
        find_board({scattered(test::box_mesh({-0.15, -0.1, 0}, {0.15, 0.1, 0.12}), 20000, 0.001), {}, {}}));
}

TEST(FindBoard, ABodyCutOpenBelowHasNone) {
    TriangleMesh mesh = test::ellipsoid_mesh(0.15, 0.1, 0.08, Vec3::Zero());
    std::erase_if(mesh.triangles, [&](const Triangle& t) { return mesh.corner(t, 0).z() < -0.06; });
    for (const double lump : {0.0, 0.004, 0.006}) {
        PointSet points{scattered(mesh, 20000, 0.0003), {}, {}};
        for (Vec3& p : points.positions) p.z() += lump * std::sin(45 * p.x()) * std::sin(50 * p.y() + 1);
        EXPECT_FALSE(find_board(points)) << lump;
    }
}

TEST(FindBoard, ABoardSeenFromBelowToo) {
    // Its top, but where the body stands; its bottom, 20 mm lower; the body over it.
    TriangleMesh top = test::box_mesh({-0.25, -0.2, -0.02}, {0.25, 0.2, 0});
    PointSet points{scattered(top, 40000, 0.0005), {}, {}};
    std::erase_if(points.positions, [](const Vec3& p) {
        return p.z() > -0.003 && std::abs(p.x()) < 0.1 && std::abs(p.y()) < 0.06;
    });
    for (const Vec3& p : scattered(test::ellipsoid_mesh(0.15, 0.1, 0.08, {0, 0, 0.075}), 15000, 0.0005)) {
        if (p.z() > 0) points.positions.push_back(p);
    }
    const auto board = find_board(points);
    ASSERT_TRUE(board);
    EXPECT_LT(angle_deg(board->to_board.linear().row(2), Vec3::UnitZ()), 0.3);
    EXPECT_NEAR(board->above(board->to_board * Vec3(0.02, 0.03, 0)), 0, 1e-3);
}

// Points of a rectangle at height z, but where something on it hides them.
void lay(PointSet& points, const Vec2& half, double z, const Vec2& hidden, int across) {
    for (int i = 0; i < across; ++i) {
        for (int j = 0; j < across; ++j) {
            const Vec2 p((2.0 * i / (across - 1) - 1) * half.x(), (2.0 * j / (across - 1) - 1) * half.y());
            if (std::abs(p.x()) > hidden.x() || std::abs(p.y()) > hidden.y())
                points.positions.emplace_back(p.x(), p.y(), z);
        }
    }
}

TEST(FindBoard, OfABoardOnATableTheUpper) {
    PointSet points;
    lay(points, {0.22, 0.17}, 0, {0.1, 0.06}, 110);
    lay(points, {0.5, 0.45}, -0.015, {0.22, 0.17}, 220);  // fuller than the board
    for (const Vec3& p : scattered(test::box_mesh({-0.22, -0.17, -0.015}, {0.22, 0.17, 0}), 12000, 0)) {
        if (p.z() > -0.0149 && p.z() < -1e-4) points.positions.push_back(p);
    }
    for (const Vec3& p : scattered(test::ellipsoid_mesh(0.15, 0.1, 0.08, {0, 0, 0.075}), 15000, 0.0005)) {
        if (p.z() > 0) points.positions.push_back(p);
    }
    const auto board = find_board(points);
    ASSERT_TRUE(board);
    EXPECT_NEAR(board->above(board->to_board * Vec3(0.02, 0.03, 0)), 0, 1e-3);
    EXPECT_NEAR(board->above(board->to_board * Vec3(0, 0, 0.1)), 0.1, 1e-3);
    // The table must not bend it.
    for (const double x : {-0.2, 0.2}) EXPECT_NEAR(board->above(board->to_board * Vec3(x, 0.15, 0)), 0, 1e-3);
}

TEST(FindBoard, AHazeOfStraysTiesNothingToTheThing) {
    // A tray with a rim, a roast, and strays between them.
    PointSet points;
    lay(points, {0.25, 0.2}, 0, {0.1, 0.06}, 120);
    for (int k = 0; k < 5000; ++k) {
        const double turns = 2 * std::numbers::pi * k / 5000;
        const Vec2 round(std::cos(turns), std::sin(turns));
        const double out = 1 / std::max(std::abs(round.x()) / 0.25, std::abs(round.y()) / 0.2);
        points.positions.emplace_back(out * round.x(), out * round.y(), 0.04 * (k * 37 % 100) / 100.0);
    }
    for (const Vec3& p : scattered(test::ellipsoid_mesh(0.15, 0.1, 0.08, {0, 0, 0.075}), 15000, 0.0005)) {
        if (p.z() > 0) points.positions.push_back(p);
    }
    std::mt19937 dice(3);
    std::uniform_real_distribution<double> share(-1, 1);
    for (int k = 0; k < 900; ++k)
        points.positions.emplace_back(0.28 * share(dice), 0.23 * share(dice), 0.1 + 0.1 * share(dice));
    const auto board = find_board(points);
    ASSERT_TRUE(board);
    EXPECT_NEAR(board->above(board->to_board * Vec3(0.02, 0.03, 0)), 0, 1e-3);
}

TEST(FindBoard, ALumpOnABoxIsNoThingOnABoard) {
    // What is under a board is thin; under a roast's flat top is the roast.
    PointSet points{scattered(test::box_mesh({-0.15, -0.1, -0.1}, {0.15, 0.1, 0}), 20000, 0.0005), {}, {}};
    for (const Vec3& p : scattered(test::ellipsoid_mesh(0.05, 0.05, 0.05, {0, 0, 0.02}), 4000, 0.0005)) {
        if (p.z() > 0) points.positions.push_back(p);
    }
    EXPECT_FALSE(find_board(points));
}

TEST(FindBoard, ScalesWithTheUnit) {
    const auto board = find_board(points_of(roast_scan({.sag_m = 0.006})));
    ASSERT_TRUE(board);
    const Board large = scaled(*board, 1000);
    EXPECT_NEAR(large.height_of_board(100, 50), 1000 * board->height_of_board(0.1, 0.05), 1e-9);
    EXPECT_DOUBLE_EQ(large.noise, 1000 * board->noise);
    const Vec3 place(0.1, 0.2, 0.3);
    EXPECT_TRUE((large.to_board * (1000 * place)).isApprox(1000 * (board->to_board * place), 1e-12));
}

}  // namespace
}  // namespace evenspit::scan
