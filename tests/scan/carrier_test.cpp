// SPDX-License-Identifier: MIT
#include "scan/carrier.h"

#include <cmath>

#include <gtest/gtest.h>

#include "other_bodies.h"
#include "scan/sampling.h"
#include "scan/separate.h"
#include "scan_cases.h"
#include "support/scan_simulator.h"

namespace evenspit::scan {
namespace {

using test::Rest;
using test::ScannedThing;

struct Seen {
    PointSet body, all;                ///< the board is z = 0
    std::vector<ScannedThing> things;  ///< of the body's
};

Seen seen_on(Rest rest, double height_m, const TriangleMesh& body = test::other_roast(0).skin) {
    test::ScanOptions options;
    options.own_axes = false;
    options.camera.noise_m = 0.001;
    options.surroundings.rest = rest;
    options.surroundings.rest_height_m = height_m;
    options.surroundings.board_size_m = {0.8, 0.7};
    options.points = 100000;
    const test::SimulatedScan scan = test::simulate_scan(body, options);
    Seen seen;
    seen.all.positions = scan.mesh.vertices;
    for (std::size_t i = 0; i < scan.things.size(); ++i) {
        if (scan.things[i] != ScannedThing::body && scan.things[i] != ScannedThing::rest) continue;
        seen.body.positions.push_back(scan.mesh.vertices[i]);
        seen.things.push_back(scan.things[i]);
    }
    return seen;
}

Board level() {
    Board board;
    board.noise = 0.001;
    return board;
}

TEST(FindCarrier, ARackAndItsHeight) {
    const Seen seen = seen_on(Rest::rack, 0.03);
    const auto carrier = find_carrier(seen.body, seen.all, level(), RestsOn::automatic);
    ASSERT_TRUE(carrier);
    EXPECT_EQ(carrier->kind, RestsOn::rack);
    EXPECT_NEAR(carrier->height_m, 0.03, 0.004);
    EXPECT_EQ(carrier->rests_at_m, carrier->height_m);
    EXPECT_GT(carrier->rests_sigma_m, 0) << "the body sinks between the wires";
}

TEST(FindCarrier, AStandWhetherItHangsWithTheBodyOrNot) {
    for (const double height : {0.035, 0.05, 0.065}) {
        Seen seen = seen_on(Rest::stand, height);
        for (const bool apart : {false, true}) {
            if (apart) {  // as where the body hangs over it and nothing ties the two
                std::vector<Vec3> flesh;
                for (std::size_t i = 0; i < seen.things.size(); ++i) {
                    if (seen.things[i] == ScannedThing::body) flesh.push_back(seen.body.positions[i]);
                }
                seen.body.positions = flesh;
            }
            const auto carrier = find_carrier(seen.body, seen.all, level(), RestsOn::automatic);
            ASSERT_TRUE(carrier) << height << apart;
            EXPECT_EQ(carrier->kind, RestsOn::stand);
            EXPECT_LT(std::abs(carrier->height_m - height), 3 * carrier->rests_sigma_m) << height << apart;
            EXPECT_LT(carrier->middle.norm(), 0.01);
        }
    }
}

TEST(FindCarrier, OfABodyOnAStandOnlyTheBodyIsKept) {
    const Seen seen = seen_on(Rest::stand, 0.05);
    const auto carrier = find_carrier(seen.body, seen.all, level(), RestsOn::automatic);
    ASSERT_TRUE(carrier);
    double left = 0, lost = 0, flesh = 0;
    const std::vector<std::size_t> kept = not_of(*carrier, seen.body, level());
    for (const ScannedThing thing : seen.things) flesh += thing == ScannedThing::body;
    lost = flesh;
    for (const std::size_t i : kept) {
        left += seen.things[i] == ScannedThing::rest;
        lost -= seen.things[i] == ScannedThing::body;
    }
    const double sides = double(seen.things.size()) - flesh;
    EXPECT_GT(sides, 100);
    EXPECT_LT(left, 0.1 * sides);
    EXPECT_LT(lost, 0.01 * flesh);
}

TEST(FindCarrier, ATinWhoseWallsAreTakenAway) {
    const Seen seen = seen_on(Rest::tin, 0.04);
    const auto carrier = find_carrier(seen.body, seen.all, level(), RestsOn::automatic);
    ASSERT_TRUE(carrier);
    EXPECT_EQ(carrier->kind, RestsOn::tin);
    double walls = 0, flesh = 0, lost = 0;
    const std::vector<std::size_t> kept = not_of(*carrier, seen.body, level());
    for (const ScannedThing thing : seen.things) {
        walls += thing == ScannedThing::rest;
        flesh += thing == ScannedThing::body;
    }
    double left = 0;
    lost = flesh;
    for (const std::size_t i : kept) {
        left += seen.things[i] == ScannedThing::rest && seen.body.positions[i].z() > 0.005;
        lost -= seen.things[i] == ScannedThing::body;
    }
    EXPECT_LT(left, 0.05 * walls);
    EXPECT_LT(lost, 0.03 * flesh);
}

// All of its low edge is under its own flanks, where a rim is seen bare here and there.
TEST(FindCarrier, ABodysOwnLowEdgeIsNoRim) {
    const test::ScanCase scanned = test::scanned(test::random_roast(38), test::random_scan(38), false);
    const PointSet points = sampled(scanned.scans[0].content);
    const auto board = find_board(points);
    ASSERT_TRUE(board);
    const Separated separated = separate_body(points, board);
    EXPECT_FALSE(find_carrier(separated.body, points, *board, RestsOn::automatic));
}

// The limbs of a soft bird that lies spread slope up to it as well, but higher.
TEST(FindCarrier, WhatSlopesUpHigherThanPlatesDoIsNoneUnlessTold) {
    const Seen plate = seen_on(Rest::plate, 0.025), bowl = seen_on(Rest::plate, 0.06);
    const auto found = find_carrier(plate.body, plate.all, level(), RestsOn::automatic);
    ASSERT_TRUE(found);
    EXPECT_TRUE(found->sloped);
    EXPECT_FALSE(find_carrier(bowl.body, bowl.all, level(), RestsOn::automatic));
    const auto told = find_carrier(bowl.body, bowl.all, level(), RestsOn::tin);
    ASSERT_TRUE(told);
    EXPECT_TRUE(told->sloped);
    EXPECT_GT(told->height_m, 0.045);
}

TEST(FindCarrier, NothingUnderABodyOnTheBoard) {
    for (const TriangleMesh& body : {test::other_roast(0).skin, test::other_bird(1).skin, test::fish(0).skin,
                                     test::rib_roast(0).skin, test::random_bird(3).skin}) {
        const Seen seen = seen_on(Rest::board, 0, body);
        EXPECT_FALSE(find_carrier(seen.body, seen.all, level(), RestsOn::automatic));
    }
}

TEST(FindCarrier, WhatIsToldIsBelieved) {
    const Seen seen = seen_on(Rest::rack, 0.03);
    EXPECT_FALSE(find_carrier(seen.body, seen.all, level(), RestsOn::board));
    EXPECT_FALSE(find_carrier(seen.body, seen.all, level(), RestsOn::stand));
    EXPECT_EQ(find_carrier(seen.body, seen.all, level(), RestsOn::tin).value().kind, RestsOn::tin);
}

}  // namespace
}  // namespace evenspit::scan
