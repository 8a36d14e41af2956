// SPDX-License-Identifier: MIT
// Baskets: flat ones closed on a piece, drums in which loose pieces tumble.
#include <algorithm>
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "analysis/analysis.h"
#include "analysis/clearance.h"
#include "analysis/limits.h"
#include "analysis/tumbling.h"
#include "loads.h"

namespace evenspit {
namespace {

using test::box_mesh;
using test::degree;
using test::flesh;
using test::tells;

Fork flat_basket(double at_m, double clock_rad = 90 * degree) {
    return {.kind = ForkKind::basket,
            .at_m = at_m,
            .mass_kg = 0.6,
            .clock_rad = clock_rad,
            .cage = {.length_m = 0.3, .width_m = 0.18, .height_m = 0.045}};
}

Fork drum(double contents_kg, double diameter_m = 0.18) {
    return {.kind = ForkKind::basket,
            .at_m = 0.34,
            .mass_kg = 0.7,
            .cage = {.length_m = 0.3,
                     .width_m = diameter_m,
                     .height_m = diameter_m,
                     .round = true,
                     .contents_kg = contents_kg}};
}

/// A slab of 240 x 150 x 40 mm that lies in the basket, the rod in its middle.
Assembly slab_in(const Fork& basket, const Vec3& half = {0.12, 0.075, 0.02}) {
    Assembly a = test::good_load();
    a.items = {test::item("fish", flesh(box_mesh(-half, half)), 0.34)};
    a.forks = {basket};
    return a;
}

TEST(Basket, HoldsWhatLiesInIt) {
    const Analysis a = analyse(slab_in(flat_basket(0.34)));
    for (const Code code :
         {Code::no_fork, Code::no_flesh, Code::one_fork, Code::grip_weight, Code::grip_torque,
          Code::out_of_basket, Code::loose_in_basket, Code::one_place, Code::hub_in_meat})
        EXPECT_FALSE(tells(a, code)) << code_name(code);
    EXPECT_NEAR(a.grip.items[0].basket_out_m.value(), 0, 1e-9);
    EXPECT_NEAR(a.grip.items[0].basket_play_m.value(), 0.005, 1e-9);
    EXPECT_NEAR(a.grip.forks[0].weight_share, 1, 1e-12);
}

TEST(Basket, WhatDoesNotGoInIsAStopAndWhatFlopsAsksForCare) {
    EXPECT_TRUE(tells(analyse(slab_in(flat_basket(0.34), {0.12, 0.075, 0.03})), Code::out_of_basket));
    EXPECT_TRUE(tells(analyse(slab_in(flat_basket(0.34), {0.16, 0.075, 0.02})), Code::out_of_basket));
    // Turned a quarter it stands across the slab.
    EXPECT_TRUE(tells(analyse(slab_in(flat_basket(0.34, 0))), Code::out_of_basket));
    EXPECT_TRUE(tells(analyse(slab_in(flat_basket(0.34), {0.12, 0.075, 0.015})), Code::loose_in_basket));
    // Somewhere else on the rod it holds nothing.
    Assembly beside = slab_in(flat_basket(0.34));
    beside.forks[0].at_m = 0.53;
    beside.forks[0].cage.length_m = 0.1;
    EXPECT_TRUE(tells(analyse(beside), Code::no_fork));
}

TEST(Basket, SweepsItsCorners) {
    const SweptLoad load = swept_load(slab_in(flat_basket(0.34)), 0.001, {});
    double reach = 0;
    for (const OutlinePiece& piece : load.outline.pieces) reach = std::max({reach, piece.r0, piece.r1});
    EXPECT_NEAR(reach, std::hypot(0.09, 0.0225), 1e-9);
}

TEST(Basket, HoldsItsStretchOfTheRodAgainstForksAndWeights) {
    Assembly a = slab_in(flat_basket(0.34));
    a.counterweights = {{.at_m = 0.21, .mass_kg = 0.3, .radius_m = 0.12, .clock_rad = 0, .diameter_m = 0.04}};
    EXPECT_TRUE(tells(analyse(a), Code::one_place));
    a.counterweights[0].at_m = 0.12;
    EXPECT_FALSE(tells(analyse(a), Code::one_place));
    a.forks.push_back(test::two_tines(0.20, Facing::drive, 0.05));
    EXPECT_TRUE(tells(analyse(a), Code::one_place));
}

TEST(Tumbling, AHalfFullDrumHasItsCentreAtFourThirdsOfTheRadiusOverPi) {
    // 600 kg/m³ in half of π/4 · 0.18² · 0.3 m³.
    const double half_kg = 600 * 0.5 * std::numbers::pi / 4 * 0.18 * 0.18 * 0.3;
    const Tumbling t = tumbling(drum(half_kg));
    EXPECT_NEAR(t.fill, 0.5, 1e-12);
    EXPECT_NEAR(t.lever_m, 4 * 0.09 / (3 * std::numbers::pi) * std::sqrt(0.5), 1e-12);
    EXPECT_NEAR(t.torque_n_m, half_kg * standard_gravity * t.lever_m, 1e-12);
}

TEST(Tumbling, TheSegmentsCentreAgreesWithASumOverStrips) {
    constexpr double radius = 0.09;
    const double full_kg = 600 * std::numbers::pi * radius * radius * 0.3;
    for (const double fill : {0.01, 0.1, 0.3, 0.6, 0.9, 0.99}) {
        const Tumbling t = tumbling(drum(fill * full_kg));
        // Strips across the drum from its bottom up until so much is filled.
        constexpr int strips = 400000;
        double area = 0, moment = 0;
        for (int n = 0; n < strips && area < fill * std::numbers::pi * radius * radius; ++n) {
            const double depth = radius - (n + 0.5) * 2 * radius / strips;
            const double strip = 2 * std::sqrt(radius * radius - depth * depth) * 2 * radius / strips;
            area += strip;
            moment += strip * depth;
        }
        EXPECT_NEAR(t.lever_m / std::sqrt(0.5), moment / area, 1e-5 * radius) << fill;
    }
}

TEST(Tumbling, HoldsTheMotorBackSteadilyAndIsNoUnbalance) {
    Assembly a = test::good_load();
    a.items.clear();
    a.forks = {drum(1.0)};
    const Analysis with = analyse(a);
    a.forks = {drum(0)};
    const Analysis without = analyse(a);
    const double torque = tumbling(drum(1.0)).torque_n_m;
    EXPECT_GT(torque, 0.1);
    EXPECT_NEAR(with.balance.motor_torque_peak_n_m - without.balance.motor_torque_peak_n_m, torque, 1e-9);
    EXPECT_NEAR(with.balance.mass_kg - without.balance.mass_kg, 1.0, 1e-12);
    EXPECT_NEAR((with.balance.unbalance_kg_m - without.balance.unbalance_kg_m).norm(), 0, 1e-12);
    EXPECT_GT(with.rod.sag_max_m, without.rod.sag_max_m);
}

TEST(Tumbling, AFlatBasketHoldsItsPiecesFast) {
    Fork basket = flat_basket(0.34);
    basket.cage.contents_kg = 1.0;
    EXPECT_EQ(tumbling(basket).torque_n_m, 0);
    EXPECT_NEAR(tumbling(basket).fill, 1.0 / 600 / (0.3 * 0.18 * 0.045), 1e-12);
}

TEST(Tumbling, ADrumTooFullDoesNotTurnItsHeapOver) {
    Assembly a = test::good_load();
    a.items.clear();
    const double full_kg = 600 * std::numbers::pi / 4 * 0.18 * 0.18 * 0.3;
    for (const auto& [share, level] :
         {std::pair{0.5, Level::ready}, std::pair{0.8, Level::care}, std::pair{1.1, Level::stop}}) {
        a.forks = {drum(share * full_kg)};
        Level told = Level::ready;
        for (const Finding& finding : analyse(a).findings) {
            if (finding.code == Code::basket_full) told = finding.level;
        }
        EXPECT_EQ(told, level) << share;
    }
}

}  // namespace
}  // namespace evenspit
