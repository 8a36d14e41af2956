// SPDX-License-Identifier: MIT
#include "analysis/rod_check.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <vector>

#include <gtest/gtest.h>

#include "analysis/balance.h"
#include "analysis/figures.h"
#include "analysis/grip.h"
#include "loads.h"

namespace evenspit {
namespace {

using std::numbers::pi;
using std::numbers::sqrt2;
using test::box_mesh;
using test::degree;
using test::flesh;
using test::two_tines;

/// Everything that leads to the rod's result, in the order of an analysis.
struct Checked {
    RodLoading loading;
    std::vector<double> reactions;
    RodResult rod;
};

Checked check(const Assembly& a, Carried way = Carried::by_tines) {
    const std::vector<ItemOnRod> items = items_on_rod(a);
    const RodLoading loading = rod_loading(a, items, grip(a, items), way);
    const Beam beam = rod_beam(a.rod, loading);
    const double friction = friction_torque(a.motor, a.rod, beam.reactions());
    RodResult rod = rod_result(a.rod, loading, beam, friction);
    add_curves(rod, a.rod, loading, beam);
    return {loading, {beam.reactions()[0], beam.reactions()[1]}, rod};
}

/// The good load on a rod and forks without weight of their own: only 2 kg of meat from 0.24 to 0.44.
Assembly meat_only() {
    Assembly a = test::good_load();
    a.rod = test::weightless_rod();
    for (Fork& fork : a.forks) fork.mass_kg = 0;
    a.motor.friction_torque_n_m = 0;
    return a;
}

constexpr double meat_n = 2 * standard_gravity;

double force_at(const RodLoading& loading, double at_m) {
    double sum = 0;
    for (const PointLoad& load : loading.points) {
        if (std::abs(load.at_m - at_m) < 1e-9) sum += load.force_n;
    }
    return sum;
}

/// Of all that hangs there, couples included, about station 0.
double moment_of(const RodLoading& loading) {
    double sum = 0;
    for (const PointLoad& load : loading.points) sum += load.force_n * load.at_m;
    for (const SpreadLoad& load : loading.spreads) sum += load.moment_n_m();
    for (const PointCouple& couple : loading.couples) sum += couple.couple_n_m;
    return sum;
}

double total(const RodLoading& loading) {
    double sum = 0;
    for (const PointLoad& load : loading.points) sum += load.force_n;
    for (const SpreadLoad& load : loading.spreads) sum += load.weight_n();
    return sum;
}

Vec2 total_unbalance(const RodLoading& loading) {
    Vec2 sum = Vec2::Zero();
    for (const TorqueEntry& entry : loading.torques) sum += entry.unbalance_kg_m;
    return sum;
}

}  // namespace

TEST(RodLoading, WithoutForksAnItemLiesEvenlyOverItsLength) {
    Assembly a = meat_only();
    a.forks.clear();
    const Checked c = check(a);
    EXPECT_TRUE(c.loading.points.empty());
    ASSERT_EQ(c.loading.spreads.size(), 1U);
    EXPECT_NEAR(c.loading.spreads[0].from_m, 0.24, 1e-12);
    EXPECT_NEAR(c.loading.spreads[0].to_m, 0.44, 1e-12);
    EXPECT_NEAR(c.loading.spreads[0].force_n_m, meat_n / 0.2, 1e-9);
}

// The box reaches from 0.24 to 0.44, the tines 60 mm into it from either end: their flesh has its middle at
// 0.27 and 0.41, so that the weight's middle at 0.34 is shared evenly.
TEST(RodLoading, OnTinesItHangsInTheMiddleOfTheirFlesh) {
    const Checked c = check(meat_only());
    EXPECT_NEAR(force_at(c.loading, 0.23), meat_n / 2, 1e-9);
    EXPECT_NEAR(force_at(c.loading, 0.45), meat_n / 2, 1e-9);
    ASSERT_EQ(c.loading.couples.size(), 2U);
    EXPECT_NEAR(c.loading.couples[0].couple_n_m, meat_n / 2 * 0.04, 1e-9);
    EXPECT_NEAR(c.loading.couples[1].couple_n_m, -meat_n / 2 * 0.04, 1e-9);
    // Between the hubs the rod is bent as if the weight hung at 0.27 and 0.41.
    const double reaction = meat_n / 2, span_from = 0.020;
    const double largest = reaction * (0.27 - span_from);
    EXPECT_NEAR(c.rod.stress_max_pa, largest / section_properties(Section::square, 0.008).least_modulus_m3,
                1e3);
}

TEST(RodLoading, ALoneForkCarriesAllThroughItsClamp) {
    Assembly a = meat_only();
    a.forks.pop_back();
    const Checked c = check(a);
    EXPECT_NEAR(force_at(c.loading, 0.23), meat_n, 1e-9);
    EXPECT_NEAR(moment_of(c.loading), meat_n * 0.34, 1e-9);
    // Beyond the hub nothing is bent but by the far support.
    EXPECT_NEAR(c.reactions[1], meat_n * (0.34 - 0.02) / 0.64, 1e-9);
}

TEST(RodLoading, ForksOnOneSideAreClampedAgainstThePull) {
    Assembly a = meat_only();
    // Both forks on the drive side of the centre, one with its flesh beyond the other's.
    a.forks = {two_tines(0.20, Facing::point, 0.10, 0.03, 0, 0),
               two_tines(0.23, Facing::point, 0.15, 0.03, 1, 0)};
    const Checked c = check(a);
    // Flesh from 0.24 to 0.30 and to 0.38: middles at 0.27 and 0.31.
    EXPECT_NEAR(force_at(c.loading, 0.20), meat_n * (0.31 - 0.34) / 0.04, 1e-6);
    EXPECT_LT(force_at(c.loading, 0.20), 0);
    EXPECT_NEAR(total(c.loading), meat_n, 1e-9);
    EXPECT_NEAR(moment_of(c.loading), meat_n * 0.34, 1e-9);
}

TEST(RodLoading, ForksSideBySideDoNotPullAgainstEachOther) {
    Assembly a = meat_only();
    a.forks = {two_tines(0.20, Facing::point, 0.10, 0.03, 0, 0),
               two_tines(0.23, Facing::point, 0.09, 0.03, 1, 0)};
    const Checked c = check(a);
    // Middles at 0.27 and 0.28: no lever to speak of; the clamps hold the body.
    EXPECT_NEAR(force_at(c.loading, 0.20), meat_n / 2, 1e-9);
    EXPECT_NEAR(force_at(c.loading, 0.23), meat_n / 2, 1e-9);
    EXPECT_NEAR(moment_of(c.loading), meat_n * 0.34, 1e-9);
}

// No fork holds it and its hollow runs through: heavier at one end, it presses harder there.
TEST(RodLoading, WhatTheRodMeetsNothingOfStillBearsAtItsCentreOfMass) {
    Assembly a = meat_only();
    a.forks.clear();
    body::Body tube =
        test::with_part(flesh(box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), body::PartKind::cavity,
                        box_mesh({-0.1, -0.03, -0.03}, {0.1, 0.03, 0.03}), 0, 0);
    tube = test::with_part(std::move(tube), body::PartKind::bone,
                           box_mesh({0.05, 0.035, -0.01}, {0.09, 0.045, 0.01}), 3000, 0);
    a.items = {test::item("tube", tube, 0.34)};
    const ItemOnRod item = items_on_rod(a)[0];
    EXPECT_GT(item.centre.x(), 0.3405);
    for (const Carried way : {Carried::by_tines, Carried::on_rod}) {
        const Checked c = check(a, way);
        const double weight = item.mass_kg * standard_gravity;
        EXPECT_NEAR(total(c.loading), weight, 1e-9);
        EXPECT_NEAR(moment_of(c.loading), weight * item.centre.x(), 1e-9);
    }
}

TEST(RodLoading, WithThreeForksStaticsStillBalance) {
    Assembly a = meat_only();
    a.forks.push_back(two_tines(0.50, Facing::drive, 0.10, 0.03, 1, 0));
    for (const Carried way : {Carried::by_tines, Carried::on_rod}) {
        const Checked c = check(a, way);
        EXPECT_NEAR(total(c.loading), meat_n, 1e-9);
        EXPECT_NEAR(moment_of(c.loading), meat_n * 0.34, 1e-9);
    }
}

// Weight lying on the rod all along a box is spread evenly: M = W/8 · (2 L − l) in the middle of a span L
// with the load's length l in its middle (any text on beams).
TEST(RodLoading, LyingOnTheRodABoxIsSpreadEvenly) {
    Assembly a = meat_only();
    a.rod.supports_m = {0.04, 0.64};
    const Checked c = check(a, Carried::on_rod);
    ASSERT_EQ(c.loading.spreads.size(), 1U);
    EXPECT_NEAR(c.loading.spreads[0].force_n_m, meat_n / 0.2, 1e-6);
    EXPECT_NEAR(c.loading.spreads[0].end_force_n_m, meat_n / 0.2, 1e-6);
    const double largest = meat_n / 8 * (2 * 0.6 - 0.2);
    EXPECT_NEAR(c.rod.stress_max_pa, largest / section_properties(Section::square, 0.008).least_modulus_m3,
                1e3);
}

// Two blocks, 100 mm thick and 40 mm thick, each 100 mm long: the centre lies 63 mm from the thick end. A
// line of intensity with its resultant there: w = W/L (1 + 12 e (x − L/2) / L²), e off the middle.
TEST(RodLoading, LyingOnTheRodALopsidedBodyPressesInALine) {
    Assembly a = meat_only();
    body::Body body = flesh(box_mesh({-0.1, -0.05, -0.05}, {0, 0.05, 0.05}));
    body = test::with_part(body, body::PartKind::flesh, box_mesh({0, -0.02, -0.02}, {0.1, 0.02, 0.02}), 1000,
                           -1);
    a.items = {test::item("leg", body, 0.34)};
    const double weight = (1 + 0.16) * standard_gravity, centre = 0.34 + (-0.05 + 0.16 * 0.05) / 1.16;
    const double off = centre - 0.34, even = weight / 0.2, rise = 12 * off * 0.1 / (0.2 * 0.2);
    const Checked c = check(a, Carried::on_rod);
    ASSERT_EQ(c.loading.spreads.size(), 1U);
    // Its thin end would have to be pulled down: it only pushes, and the forks take what is left.
    ASSERT_GT(std::abs(rise), 1);
    EXPECT_EQ(c.loading.spreads[0].end_force_n_m, 0);
    EXPECT_LT(c.loading.spreads[0].to_m, 0.44);
    ASSERT_EQ(c.loading.couples.size(), 1U) << "the one fork that holds it";
    EXPECT_GT(c.loading.spreads[0].force_n_m, even);
    EXPECT_NEAR(total(c.loading), weight, 1e-9);
    EXPECT_NEAR(moment_of(c.loading), weight * centre, 1e-9);
}

// In a hollow nothing lies on the rod: front and back carry alone.
TEST(RodLoading, InAHollowNothingLiesOnTheRod) {
    Assembly a = meat_only();
    a.items = {test::item(
        "bird",
        test::with_part(flesh(box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), body::PartKind::cavity,
                        box_mesh({-0.06, -0.03, -0.03}, {0.06, 0.03, 0.03}), 0, 0),
        0.34)};
    const Checked c = check(a, Carried::on_rod);
    ASSERT_EQ(c.loading.spreads.size(), 2U);
    EXPECT_NEAR(c.loading.spreads[0].to_m, 0.28, 1e-9);
    EXPECT_NEAR(c.loading.spreads[1].from_m, 0.40, 1e-9);
}

TEST(RodLoading, AddsForksCounterweightsAndTheRodItself) {
    Assembly a = test::good_load();
    a.counterweights = {
        {.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 90 * degree, .diameter_m = 0.04}};
    a.forks[0].tines.pop_back();  // heavy to one side
    const Checked c = check(a);
    EXPECT_NEAR(force_at(c.loading, 0.23), meat_n / 2 + 0.16 * standard_gravity, 1e-9);
    EXPECT_NEAR(force_at(c.loading, 0.1), 0.3 * standard_gravity, 1e-12);
    ASSERT_EQ(c.loading.spreads.size(), 1U);
    EXPECT_EQ(c.loading.spreads[0].from_m, 0);
    EXPECT_EQ(c.loading.spreads[0].to_m, 0.760);
    EXPECT_NEAR(c.loading.spreads[0].force_n_m, 0.008 * 0.008 * 7900 * standard_gravity, 1e-12);
    EXPECT_NEAR(c.reactions[0] + c.reactions[1], total(c.loading), 1e-12);
    const Balance b = balance(turning_masses(a, Doneness::raw), a.motor, 0);
    EXPECT_NEAR(total(c.loading), b.mass_kg * standard_gravity, 1e-9)
        << "what turns is what the supports carry";
    EXPECT_NEAR((total_unbalance(c.loading) - b.unbalance_kg_m).norm(), 0, 1e-15);
}

TEST(RodLoading, TorqueEntersAtTheForksByTheirGrip) {
    Assembly a = meat_only();
    a.items = {
        test::item("roast", flesh(box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), 0.34, {0.01, 0})};
    // 60 mm and 30 mm of each tine in the meat: 2 : 1.
    for (Tine& tine : a.forks[1].tines) tine.length_m = 0.04;
    const Checked c = check(a);
    EXPECT_NEAR(total_unbalance(c.loading).x(), 2 * 0.01, 1e-13);
    for (const TorqueEntry& entry : c.loading.torques) {
        if (entry.unbalance_kg_m.norm() < 1e-12) continue;
        EXPECT_NEAR(entry.unbalance_kg_m.x(), entry.at_m < 0.3 ? 2 * 0.01 * 2 / 3 : 2 * 0.01 / 3, 1e-12);
    }
}

TEST(RodLoading, WhatIsSeatedPastTheEndIsTakenAtTheEnd) {
    Assembly a = meat_only();
    a.forks.clear();
    a.items[0].pose.translation().x() = 1.5;
    a.counterweights = {{.at_m = -0.1, .mass_kg = 0.3, .radius_m = 0, .clock_rad = 0, .diameter_m = 0.04}};
    const Checked c = check(a);
    EXPECT_NEAR(force_at(c.loading, 0.760), meat_n, 1e-9);
    EXPECT_NEAR(force_at(c.loading, 0), 0.3 * standard_gravity, 1e-9);
}

TEST(FrictionTorque, IsTheGivenOneOrTheCoefficientAtTheCorners) {
    Motor motor = test::small_motor();
    const Rod rod = test::steel_rod();
    EXPECT_EQ(friction_torque(motor, rod, {100, 200}), 0.05);
    motor.friction_torque_n_m.reset();
    motor.support_friction = 0.15;
    EXPECT_NEAR(friction_torque(motor, rod, {100, 200}), 0.15 * 200 * 0.008 / sqrt2, 1e-15)
        << "the drive's seat turns with the rod";
    EXPECT_NEAR(friction_torque(motor, rod, {340, -20}), 0.15 * 20 * 0.008 / sqrt2, 1e-15)
        << "pulled up rubs too";
    Rod round = rod;
    round.section = Section::round;
    EXPECT_NEAR(friction_torque(motor, round, {100, 200}), 0.15 * 200 * 0.004, 1e-15);
}

// 200 N on a square of 8 mm: half a side of leverage, 0.8 N m; on a hexagon half its side, d / (2 √3).
TEST(FlatsTorque, LiftsTheRodOverItsCorners) {
    Rod rod = test::steel_rod();
    EXPECT_EQ(flats_torque(rod, {100, 200}).flats, 0) << "in a bushing";
    rod.bushing = false;
    EXPECT_EQ(flats_torque(rod, {100, 200}).flats, 4);
    EXPECT_NEAR(flats_torque(rod, {100, 200}).peak_n_m, 200 * 0.004, 1e-12);
    rod.section = Section::hexagon;
    EXPECT_EQ(flats_torque(rod, {100, -200}).flats, 6);
    EXPECT_NEAR(flats_torque(rod, {100, -200}).peak_n_m, 200 * 0.008 / (2 * std::numbers::sqrt3), 1e-12);
    rod.section = Section::round;
    EXPECT_EQ(flats_torque(rod, {100, 200}).flats, 0);
}

// The work that gravity and flats do over a turn is nothing: the rod ends as high as it began.
TEST(FlatsTorque, GivesBackOnTheWayDown) {
    Assembly a = test::good_load();
    a.rod.bushing = false;
    const auto worked_out = [](const Assembly& load) {
        return figures(
            load, [](const Assembly& one) { return swept_load(one); }, Detail::full);
    };
    const Analysis rough = worked_out(a);
    a.rod.bushing = true;
    const Analysis smooth = worked_out(a);
    EXPECT_EQ(rough.balance.flats, 4);
    EXPECT_EQ(smooth.balance.flats, 0);
    const double peak = rough.balance.flats_torque_peak_n_m;
    EXPECT_NEAR(peak, std::abs(rough.rod.reactions_n[1]) * 0.004, 1e-9);
    EXPECT_GT(peak, 0.01);
    double sum = 0;
    for (int k = 0; k < 3600; ++k) sum += motor_torque_at(rough.balance, 2 * pi * (k + 0.5) / 3600);
    EXPECT_NEAR(sum / 3600, rough.balance.friction_torque_n_m, 1e-9);
    EXPECT_NEAR(rough.balance.motor_torque_peak_n_m, smooth.balance.motor_torque_peak_n_m + peak, 0.3 * peak);
    EXPECT_GT(rough.rod.stress_max_pa, smooth.rod.stress_max_pa);
}

// Two loads of 30 N at 0.25 m from the ends of a 0.8 m span of 12 mm square bar, E = 200 GPa: M = 7.5 N
// m; 26.04 MPa on the flat, √2 times that on the corner; sag 1.510 mm (AISC Manual, table 3-23, case 9, from
// memory).
TEST(RodResult, TwoLoadsByHand) {
    Rod rod = test::weightless_rod();
    rod.width_m = 0.012;
    rod.length_m = 0.8;
    rod.supports_m = {0, 0.8};
    const RodLoading loading{.points = {{0.25, 30}, {0.55, 30}}, .spreads = {}, .torques = {}};
    const Beam beam = rod_beam(rod, loading);
    const RodResult r = rod_result(rod, loading, beam, 0);
    EXPECT_NEAR(r.reactions_n[0], 30, 1e-12);
    EXPECT_NEAR(r.reactions_n[1], 30, 1e-12);
    EXPECT_NEAR(r.stress_max_pa, 26.04e6 * sqrt2, 0.01e6);
    EXPECT_NEAR(r.stress_max_pa, 7.5 / (std::pow(0.012, 3) / (6 * sqrt2)), 1);
    EXPECT_NEAR(r.yield_use, r.stress_max_pa / 210e6, 1e-15);
    EXPECT_NEAR(r.sag_max_m, 1.510e-3, 0.5e-6);
    EXPECT_NEAR(r.sag_at_m, 0.4, 1e-6);
    EXPECT_EQ(r.youngs_modulus_pa, 200e9);
    EXPECT_EQ(r.yield_strength_pa, 210e6);
}

TEST(RodResult, HotSteelSagsMoreAndYieldsSooner) {
    Rod rod = test::weightless_rod();
    // EN 1993-1-2, table C.1, 1.4301 at 300 °C.
    rod.material.hot = {{293.15, 1, 1}, {573.15, 0.88, 0.64}};
    const RodLoading loading{.points = {{0.34, 50}}, .spreads = {}, .torques = {}};
    const RodResult cold = rod_result(rod, loading, rod_beam(rod, loading), 0);
    rod.temperature_k = 573.15;
    const RodResult hot = rod_result(rod, loading, rod_beam(rod, loading), 0);
    EXPECT_NEAR(hot.youngs_modulus_pa, 176e9, 1);
    EXPECT_NEAR(hot.yield_strength_pa, 134.4e6, 1);
    EXPECT_NEAR(hot.sag_max_m / cold.sag_max_m, 1 / 0.88, 1e-12);
    EXPECT_NEAR(hot.stress_max_pa / cold.stress_max_pa, 1, 1e-15);
    EXPECT_NEAR(hot.yield_use / cold.yield_use, 1 / 0.64, 1e-12);
}

// 40 N in the middle of a 0.6 m span, 0.05 kg m off the axis there: M = 6 N m; T = g · 0.05 all the way from
// the drive to the middle. Round bar of 10 mm: σ = 32 M/πd³, τ = 16 T/πd³, together √(σ² + 3τ²).
TEST(RodResult, BendingAndTorsionTogether) {
    Rod rod = test::weightless_rod();
    rod.section = Section::round;
    rod.width_m = 0.010;
    rod.length_m = 0.6;
    rod.supports_m = {0, 0.6};
    const RodLoading loading{.points = {{0.3, 40}}, .spreads = {}, .torques = {{0.3, {0.03, 0.04}}}};
    const RodResult r = rod_result(rod, loading, rod_beam(rod, loading), 0);
    const double sigma = 32 * 6 / (pi * 1e-6), tau = 16 * standard_gravity * 0.05 / (pi * 1e-6);
    EXPECT_NEAR(r.stress_max_pa, std::sqrt(sigma * sigma + 3 * tau * tau), 1e-3);
    EXPECT_NEAR(r.stress_at_m, 0.3, 1e-12);
}

// Torque alone, so that the stress tells the twist: √3 T / W.
TEST(RodResult, TwistIsWhatHangsBeyond) {
    Rod rod = test::weightless_rod();
    const double modulus = section_properties(rod.section, rod.width_m).torsion_modulus_m3;
    const auto twist = [&](std::vector<TorqueEntry> torques, double friction = 0,
                           std::vector<PointLoad> points = {}) {
        const RodLoading loading{.points = std::move(points), .spreads = {}, .torques = std::move(torques)};
        return rod_result(rod, loading, rod_beam(rod, loading), friction).stress_max_pa * modulus /
               std::sqrt(3.0);
    };
    EXPECT_NEAR(twist({{0.3, {0.02, 0}}}), standard_gravity * 0.02, 1e-9);
    EXPECT_NEAR(twist({{0.3, {0.02, 0}}, {0.5, {0, 0.02}}}), standard_gravity * 0.02 * sqrt2, 1e-9);
    EXPECT_NEAR(twist({{0.2, {-0.02, 0}}, {0.5, {0.02, 0}}}), standard_gravity * 0.02, 1e-9)
        << "balanced as a whole, and yet the stretch between them is twisted";
    EXPECT_NEAR(twist({{0.01, {0.03, 0}}}), standard_gravity * 0.03, 1e-9)
        << "before the seat it twists the stub";
    // Friction at the far bearing comes on top.
    EXPECT_NEAR(twist({{0.3, {0.02, 0}}}, 0.4), standard_gravity * 0.02 + 0.4, 1e-9);
}

// 40 N and 0.02 kg m at two places: whether the bent place is twisted depends on which lies beyond the other.
TEST(RodResult, OnlyTheStretchTowardTheDriveIsTwisted) {
    Rod rod = test::weightless_rod();
    rod.supports_m = {0, 0.76};
    const SectionProperties section = section_properties(rod.section, rod.width_m);
    const auto stress = [&](double weight_at, double torque_at) {
        const RodLoading loading{
            .points = {{weight_at, 40}}, .spreads = {}, .torques = {{torque_at, {0, 0.02}}}};
        return rod_result(rod, loading, rod_beam(rod, loading), 0);
    };
    const double sigma = 40 * 0.38 * 0.38 / 0.76 / section.least_modulus_m3;
    const double tau = standard_gravity * 0.02 / section.torsion_modulus_m3;
    EXPECT_NEAR(stress(0.38, 0.1).stress_max_pa, sigma, 1e-3);
    EXPECT_NEAR(stress(0.38, 0.6).stress_max_pa, std::sqrt(sigma * sigma + 3 * tau * tau), 1e-3);
    EXPECT_NEAR(stress(0.38, 0.6).stress_at_m, 0.38, 1e-12);
}

// Of many loads it is looked for where sums that run along the rod say it may be; here every stretch is
// asked, and every torque for each.
TEST(RodResult, OfManyLoadsTheStressIsTheGreatestOfAllStretches) {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> along(0, 1), either(-1, 1);
    for (int trial = 0; trial < 30; ++trial) {
        Rod rod = test::weightless_rod();
        rod.length_m = 2;
        rod.supports_m = {0.3 * along(random), 1.6 + 0.4 * along(random)};
        const auto place = [&] { return rod.length_m * along(random); };
        RodLoading loading;
        for (int k = 0; k < 3 * trial; ++k) {
            loading.points.push_back({place(), 20 * either(random)});
            const double from = place(), to = place();
            loading.spreads.push_back(
                {std::min(from, to), std::max(from, to), 9 * along(random), 9 * along(random)});
            loading.couples.push_back({place(), 2 * either(random)});
            loading.torques.push_back({place(), {0.1 * either(random), 0.1 * either(random)}});
        }
        const Beam beam = rod_beam(rod, loading);
        std::vector<double> marks = beam.breakpoints();
        for (const TorqueEntry& entry : loading.torques) marks.push_back(entry.at_m);
        std::sort(marks.begin(), marks.end());
        const SectionProperties section = section_properties(rod.section, rod.width_m);
        constexpr double friction = 0.3;
        double most = 0, at = 0;
        for (std::size_t i = 0; i + 1 < marks.size(); ++i) {
            const double middle = (marks[i] + marks[i + 1]) / 2;
            Vec2 before = Vec2::Zero(), beyond = Vec2::Zero();
            for (const TorqueEntry& entry : loading.torques)
                (entry.at_m < middle ? before : beyond) += entry.unbalance_kg_m;
            const double twist = middle < rod.supports_m[0]   ? standard_gravity * before.norm()
                                 : middle < rod.supports_m[1] ? standard_gravity * beyond.norm() + friction
                                                              : standard_gravity * beyond.norm();
            const BeamExtreme bend = beam.largest_moment(marks[i], marks[i + 1]);
            const double stress = std::hypot(bend.value / section.least_modulus_m3,
                                             std::sqrt(3) * twist / section.torsion_modulus_m3);
            if (stress > most * (1 + 1e-14)) {
                most = stress;
                at = bend.at_m;
            }
        }
        const RodResult found = rod_result(rod, loading, beam, friction);
        EXPECT_NEAR(found.stress_max_pa, most, 1e-12 * most) << trial;
        if (most > 0) {
            EXPECT_EQ(found.stress_at_m, at) << trial;
        }
    }
}

TEST(RodResult, TellsSagAndMomentAlongTheRod) {
    const Assembly a = test::good_load();
    const Checked c = check(a);
    ASSERT_GT(c.rod.sag.size(), 200U);
    ASSERT_EQ(c.rod.sag.size(), c.rod.moment.size());
    EXPECT_EQ(c.rod.sag.front()[0], 0);
    EXPECT_EQ(c.rod.sag.back()[0], a.rod.length_m);
    double largest = 0;
    for (std::size_t i = 0; i < c.rod.sag.size(); ++i) {
        if (i > 0) {
            EXPECT_GT(c.rod.sag[i][0], c.rod.sag[i - 1][0]);
        }
        largest = std::max(largest, c.rod.sag[i][1]);
    }
    EXPECT_LE(largest, c.rod.sag_max_m);
    EXPECT_NEAR(largest, c.rod.sag_max_m, 1e-3 * c.rod.sag_max_m);
}

}  // namespace evenspit
