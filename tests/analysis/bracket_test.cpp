// SPDX-License-Identifier: MIT
// Spine brackets: legs across the rod, out through the back.
#include <algorithm>
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "analysis/clearance.h"
#include "analysis/figures.h"
#include "analysis/grip.h"
#include "analysis/limits.h"
#include "loads.h"

namespace evenspit {
namespace {

using test::box_mesh;
using test::degree;
using test::ellipsoid_mesh;
using test::flesh;
using test::tells;
using test::with_part;

Fork bracket(double at_m, double clock_rad, double apart_m = 0.04, double length_m = 0.08,
             double diameter_m = 0.008) {
    const Tine leg{.clock_rad = 0, .radius_m = apart_m / 2, .length_m = length_m, .diameter_m = diameter_m};
    Tine other = leg;
    other.radius_m = -leg.radius_m;
    return {.kind = ForkKind::bracket,
            .at_m = at_m,
            .mass_kg = 0.3,
            .tines = {leg, other},
            .clock_rad = clock_rad};
}

/// 200 mm along the rod, 100 mm square, held by two forks and a bracket whose legs go up.
Assembly block_on_bracket(const Fork& on) {
    Assembly a = test::good_load();
    a.forks.push_back(on);
    return a;
}

TEST(Bracket, ALegBearsByItsDistanceFromTheRod) {
    const Assembly a = block_on_bracket(bracket(0.34, 90 * degree));
    const Grip held = grip(a, items_on_rod(a));
    const ForkGrip& on = held.forks[2];
    for (const TineGrip& leg : on.tines) {
        // The block ends 50 mm over the rod; 30 of the 80 mm stand out.
        EXPECT_EQ(leg.item, 0);
        EXPECT_NEAR(leg.in_flesh_m(), 0.05, 1e-9);
        EXPECT_NEAR(leg.stands_out_m, 0.03, 1e-9);
        EXPECT_NEAR(leg.flesh_arm_m, 0.025, 1e-9);
        EXPECT_FALSE(leg.cover_min_m.has_value());
    }
    // Each leg: strength · diameter · ∫ s ds from 0 to 50 mm.
    const double strength = matter_of(a.items[0]).bearing_strength_pa;
    EXPECT_NEAR(on.torque_capacity_raw_n_m, 2 * strength * 0.008 * 0.05 * 0.05 / 2, 1e-9);
}

TEST(Bracket, WhatItHoldsAgreesWithASumOverSlicesWhereverItsLegsRun) {
    Assembly a = test::good_load();
    const Vec3 half(0.11, 0.055, 0.07), middle(0, 0.004, -0.006);
    a.items = {test::item("roast", flesh(ellipsoid_mesh(half.x(), half.y(), half.z(), middle)), 0.34)};
    const double strength = matter_of(a.items[0]).bearing_strength_pa;
    for (const double clock : {0.0, 37.0, 90.0, 201.0, 300.0}) {
        a.forks = {bracket(0.36, clock * degree, 0.05, 0.12)};
        const Grip held = grip(a, items_on_rod(a));
        double capacity = 0;
        for (const Tine& leg : a.forks[0].tines) {
            constexpr int slices = 200000;
            for (int n = 0; n < slices; ++n) {
                const double s = (n + 0.5) * leg.length_m / slices, turn = clock * degree;
                const Vec3 at(0.02, s * std::cos(turn) - leg.radius_m * std::sin(turn),
                              s * std::sin(turn) + leg.radius_m * std::cos(turn));
                // What turns presses at right angles to the leg: its lever is s.
                if ((at - middle).cwiseQuotient(half).squaredNorm() < 1)
                    capacity += strength * leg.diameter_m * s * leg.length_m / slices;
            }
        }
        // The mesh lies a little inside its ellipsoid.
        EXPECT_NEAR(held.forks[0].torque_capacity_raw_n_m, capacity, 0.01 * capacity) << clock;
    }
}

TEST(Bracket, TurnsWithTheRod) {
    Assembly a = block_on_bracket(bracket(0.34, 0));
    const Grip level = grip(a, items_on_rod(a));
    a.forks[2].clock_rad = 90 * degree;
    const Grip upright = grip(a, items_on_rod(a));
    // The block is as high as it is wide.
    EXPECT_NEAR(level.forks[2].torque_capacity_raw_n_m, upright.forks[2].torque_capacity_raw_n_m, 1e-9);
    const PinLine line = pin_line(a.forks[2], a.forks[2].tines[0]);
    EXPECT_NEAR((line.root - Vec3(0.34, -0.02, 0)).norm(), 0, 1e-12);
    EXPECT_NEAR((line.tip - Vec3(0.34, -0.02, 0.08)).norm(), 0, 1e-12);
}

TEST(Bracket, ItsWeightHangsOnTheSideOfItsLegs) {
    Assembly a = block_on_bracket(bracket(0.34, 90 * degree));
    const Analysis with = analyse(a);
    // Steel legs of 80 mm: their middle is 40 mm out.
    const double legs_kg = 2 * std::numbers::pi / 4 * 0.008 * 0.008 * 0.08 * 7900;
    EXPECT_NEAR(with.balance.unbalance_kg_m.y(), legs_kg * 0.04, 1e-9);
    EXPECT_NEAR(with.balance.unbalance_kg_m.x(), 0, 1e-9);
}

TEST(Bracket, SweepsAsFarAsItsLegsReach) {
    const Assembly a = block_on_bracket(bracket(0.34, 90 * degree, 0.04, 0.12));
    const SweptLoad load = swept_load(a, 0.001, {});
    double reach = 0;
    for (const OutlinePiece& piece : load.outline.pieces) reach = std::max({reach, piece.r0, piece.r1});
    EXPECT_NEAR(reach, std::hypot(0.12, 0.02) + 0.004, 1e-6);
}

TEST(Bracket, LegsThatDoNotComeOutAreAStop) {
    EXPECT_TRUE(tells(analyse(block_on_bracket(bracket(0.34, 90 * degree, 0.04, 0.049))), Code::leg_short));
    EXPECT_TRUE(tells(analyse(block_on_bracket(bracket(0.34, 90 * degree, 0.04, 0.060))), Code::leg_short));
    EXPECT_FALSE(tells(analyse(block_on_bracket(bracket(0.34, 90 * degree, 0.04, 0.066))), Code::leg_short));
}

TEST(Bracket, ClaspsTheSpine) {
    Assembly a = block_on_bracket(bracket(0.34, 90 * degree));
    a.items[0] =
        test::item("pig",
                   with_part(flesh(box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), body::PartKind::bone,
                             box_mesh({-0.09, -0.008, 0.02}, {0.09, 0.008, 0.035}), 1300, 0),
                   0.34);
    EXPECT_FALSE(tells(analyse(a), Code::leg_off_spine));
    EXPECT_FALSE(tells(analyse(a), Code::tine_in_bone));
    a.forks[2].clock_rad = 270 * degree;
    EXPECT_TRUE(tells(analyse(a), Code::leg_off_spine));
    // Through the spine.
    a.forks[2] = bracket(0.34, 90 * degree, 0.010);
    EXPECT_TRUE(tells(analyse(a), Code::tine_in_bone));
}

TEST(Bracket, ItsHubBelongsInsideTheMeat) {
    Assembly a = block_on_bracket(bracket(0.34, 90 * degree));
    EXPECT_FALSE(tells(analyse(a), Code::hub_in_meat));
    a.forks[2] = test::two_tines(0.34, Facing::point, 0.02);
    EXPECT_TRUE(tells(analyse(a), Code::hub_in_meat));
}

TEST(Bracket, LegsAndTinesThatMeetAreInOnePlace) {
    // The fork's tines reach to station 300 mm, 30 mm to the side of the rod.
    EXPECT_FALSE(tells(analyse(block_on_bracket(bracket(0.34, 90 * degree, 0.06))), Code::one_place));
    EXPECT_TRUE(tells(analyse(block_on_bracket(bracket(0.29, 90 * degree, 0.06))), Code::one_place));
    EXPECT_FALSE(tells(analyse(block_on_bracket(bracket(0.29, 90 * degree, 0.03))), Code::one_place));
}

TEST(Bracket, ThickerLegsBendLess) {
    const auto bent = [](double diameter_m) {
        const Analysis a = analyse(block_on_bracket(bracket(0.34, 90 * degree, 0.04, 0.08, diameter_m)));
        return a.grip.forks[2].tines[0].bend_use.value();
    };
    EXPECT_GT(bent(0.004), bent(0.008));
    // By hand: all forks carry what they press on; this one's share of 2 kg, its legs' middle 25 mm from the
    // rod.
    const Assembly load = block_on_bracket(bracket(0.34, 90 * degree));
    const Analysis a = analyse(load);
    const ForkGrip& on = a.grip.forks[2];
    const double share_n = std::abs(on.weight_share) * 2 * standard_gravity / 2;
    const double modulus_m3 = std::numbers::pi * std::pow(0.008, 3) / 32;
    EXPECT_NEAR(on.tines[0].bend_use.value(), share_n * 0.025 / modulus_m3 / 400e6, 1e-3);
}

}  // namespace
}  // namespace evenspit
