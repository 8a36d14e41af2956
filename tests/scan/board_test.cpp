// SPDX-License-Identifier: MIT
#include "scan/board.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "made_points.h"

namespace evenspit {
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
}  // namespace evenspit
