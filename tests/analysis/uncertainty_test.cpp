// SPDX-License-Identifier: MIT
// What the spread of many mountings says of the balance, against closed forms.
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include <gtest/gtest.h>

#include "analysis/chance.h"
#include "analysis/mountings.h"
#include "loads.h"

namespace evenspit {
namespace {

const Spread no_spread = Spread::none();

/// What scans left open counts wherever anything at all may be off.
Spread only_scans() {
    Spread spread = Spread::none();
    spread.centre_m = 1e-12;
    return spread;
}

Spread of_the_line(double rod_line_m) {
    Spread spread = Spread::none();
    spread.rod_line_m = rod_line_m;
    return spread;
}

/// The good load, its meat off the axis.
Assembly off_axis(double offset_m) {
    Assembly a = test::good_load();
    a.items = {test::item("roast", test::flesh(test::box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), 0.34,
                          {0, offset_m})};
    return a;
}

/// The load of off_axis(), its meat from a scan that left that much of the centre open (rod's axes).
Assembly scanned(double offset_m, const Mat3& covariance) {
    Assembly a = off_axis(offset_m);
    body::Body body = a.items[0].body->body;
    body.centre_covariance_m2 = covariance;
    a.items[0].body = body::prepare(std::move(body));
    return a;
}

Uncertainty sampled(Assembly a, const Spread& spread, int mountings = 4096) {
    a.spread = spread;
    return judge(a, mountings).uncertainty.value();
}

}  // namespace

TEST(Uncertainty, IsTheSameEveryTime) {
    const Assembly a = off_axis(0.01);
    const Uncertainty once = sampled(a, {}), again = sampled(a, {});
    EXPECT_EQ(once.gravity_torque_p95_n_m, again.gravity_torque_p95_n_m);
    EXPECT_EQ(once.stall_probability, again.stall_probability);
    EXPECT_EQ(once.samples, 4096);
}

TEST(Uncertainty, WithoutSpreadIsTheBalanceItself) {
    const double torque = 2 * standard_gravity * 0.01;
    EXPECT_NEAR(sampled(off_axis(0.01), no_spread).gravity_torque_p95_n_m, torque, 1e-12);
    EXPECT_NEAR(sampled(off_axis(0.01), no_spread, 1).gravity_torque_p95_n_m, torque, 1e-12);
    EXPECT_EQ(sampled(off_axis(0.01), no_spread).stall_probability, 0);
}

// An item on the axis: what is left is two normal errors of one size across the rod, a Rayleigh distribution,
// whose 95th percentile is σ √(−2 ln 0.05) = 2.448 σ. The line's ends count by half each at the middle: σ² =
// ½ line² + centre².
TEST(Uncertainty, OfABalancedItemIsARayleighDistribution) {
    Spread spread = of_the_line(0.004);
    spread.mass = 0.01;
    spread.centre_m = 0.002;
    const double sigma_m = std::hypot(0.004 / std::sqrt(2.0), 0.002);
    const double expected = 2 * standard_gravity * sigma_m * std::sqrt(-2 * std::log(0.05));
    EXPECT_NEAR(sampled(off_axis(0), spread, 8192).gravity_torque_p95_n_m / expected, 1, 0.01);
    EXPECT_NEAR(sampled(off_axis(0), spread).gravity_torque_p95_n_m / expected, 1, 0.04);
}

// Far off the axis only the errors along the heavy side count: one normal distribution, 95th percentile 1.645
// σ.
TEST(Uncertainty, OfAHeavySideIsANormalDistribution) {
    Spread spread = Spread::none();
    spread.mass = 0.02;
    spread.centre_m = 0.002;
    const double offset = 0.2, sigma = std::hypot(0.02 * offset, 0.002);
    const double expected = 2 * standard_gravity * (offset + 1.645 * sigma);
    EXPECT_NEAR(sampled(off_axis(offset), spread, 8192).gravity_torque_p95_n_m / expected, 1, 0.002);
}

TEST(Uncertainty, GrowsWithTheSpread) {
    double last = sampled(off_axis(0.01), no_spread).gravity_torque_p95_n_m;
    for (const double line : {0.002, 0.004, 0.008}) {
        const double p95 = sampled(off_axis(0.01), of_the_line(line)).gravity_torque_p95_n_m;
        EXPECT_GT(p95, last) << line;
        last = p95;
    }
}

// At the body's centre of mass each end of the line counts by how near it is.
TEST(Uncertainty, OfALineCountsTheNearerEndMore) {
    // Two blocks in one body, 200 mm long in all: its centre of mass lies 63 mm from the thick end.
    const double thick_kg = 0.1 * 0.1 * 0.1 * 1000, thin_kg = 0.1 * 0.04 * 0.04 * 1000;
    const double mass_kg = thick_kg + thin_kg;
    const double near =
        (thick_kg * 0.05 + thin_kg * 0.15) / 0.2 / mass_kg;  // of the length, from the thick end
    for (const bool thick_first : {true, false}) {
        Assembly a = test::good_load();
        const double thick_from = thick_first ? -0.1 : 0, thin_from = thick_first ? 0 : -0.1;
        body::Body body =
            test::flesh(test::box_mesh({thick_from, -0.05, -0.05}, {thick_from + 0.1, 0.05, 0.05}));
        body.parts.push_back(
            {.name = "shank",
             .kind = body::PartKind::flesh,
             .mesh = test::box_mesh({thin_from, -0.02, -0.02}, {thin_from + 0.1, 0.02, 0.02}),
             .density_kg_m3 = 1000,
             .parent = -1,
             .regions = {}});
        a.items = {test::item("leg", body, 0.34)};
        a.spread = of_the_line(0.004);
        const RodLine line = Mountings(a, 1).mounting(0).items[0].seat.line;
        const Vec2 off = thick_first ? Vec2((1 - near) * line.from + near * line.to)
                                     : Vec2(near * line.from + (1 - near) * line.to);
        // A slanting line turns the body a little: second order.
        EXPECT_NEAR(judge(a, 1).uncertainty->gravity_torque_p95_n_m, standard_gravity * mass_kg * off.norm(),
                    3e-4);
    }
}

TEST(Uncertainty, StallIsCertainFarBeyondAndImpossibleFarBelow) {
    Assembly a = off_axis(0.01);  // pulls 0.2 N m
    a.motor.stall_torque_n_m = 100;
    EXPECT_EQ(sampled(a, {}).stall_probability, 0);
    a.motor.stall_torque_n_m = 0.01;
    EXPECT_EQ(sampled(a, {}).stall_probability, 1);
}

// Peak exactly at the stall torque, which alone is uncertain: it stalls in half of all cases.
TEST(Uncertainty, StallsInHalfOfTheCasesAtTheLimit) {
    Assembly a = off_axis(0.05);
    a.motor.stall_torque_n_m = 2 * standard_gravity * 0.05 + *a.motor.friction_torque_n_m;
    Spread spread = no_spread;
    spread.motor = 0.1;
    EXPECT_NEAR(sampled(a, spread, 8192).stall_probability, 0.5, 0.01);
}

// The same, with friction alone uncertain, and half of the peak.
TEST(Uncertainty, FrictionToo) {
    Assembly a = off_axis(0.05);
    a.motor.friction_torque_n_m = 2 * standard_gravity * 0.05;
    a.motor.stall_torque_n_m = 2 * *a.motor.friction_torque_n_m;
    Spread spread = no_spread;
    spread.friction = 0.3;
    EXPECT_NEAR(sampled(a, spread, 8192).stall_probability, 0.5, 0.01);
    // One standard deviation more: 15.87 % lie beyond.
    a.motor.stall_torque_n_m += 0.3 * *a.motor.friction_torque_n_m;
    EXPECT_NEAR(sampled(a, spread, 8192).stall_probability, 0.1587, 0.005);
}

// Errors of one size each way add in squares to those that no shape knows; 95th percentile as above.
TEST(Uncertainty, OfAScanAsOpenEachWayIsARayleighDistribution) {
    Spread spread = no_spread;
    spread.centre_m = 0.002;
    const Assembly a = scanned(0, Mat3(0.003 * 0.003 * Mat3::Identity()));
    const double expected = 2 * standard_gravity * std::hypot(0.002, 0.003) * std::sqrt(-2 * std::log(0.05));
    EXPECT_NEAR(sampled(a, spread, 8192).gravity_torque_p95_n_m / expected, 1, 0.01);
}

// Open along one line only: the size of a normal deviate, of which 95 of 100 are under 1.960 σ.
TEST(Uncertainty, OfAScanOpenAlongALineIsAHalfNormalDistribution) {
    const Vec3 along = Vec3(0.2, 0.3, -0.6);
    const double sigma = 0.003 * along.tail<2>().norm();
    const Assembly a = scanned(0, Mat3(0.003 * 0.003 * along * along.transpose()));
    EXPECT_NEAR(
        sampled(a, only_scans(), 8192).gravity_torque_p95_n_m / (2 * standard_gravity * 1.960 * sigma), 1,
        0.01);
}

// With a heavy side (+z) only the errors along it count, 95 of 100 under 1.645 σ.
TEST(Uncertainty, OfAScanCountsAlongTheHeavySide) {
    const double offset = 0.2;
    Mat3 covariance;
    covariance << 9e-6, 0, 0, 0, 16e-6, 10e-6, 0, 10e-6, 25e-6;
    const auto p95 = [&](const Mat3& c) {
        return sampled(scanned(offset, c), only_scans(), 8192).gravity_torque_p95_n_m;
    };
    EXPECT_NEAR(p95(covariance), 2 * standard_gravity * (offset + 1.645 * 0.005), 2e-3);
    // Along the rod an error does not show.
    EXPECT_NEAR(p95(Mat3(Vec3(1e-4, 0, 0).asDiagonal())), 2 * standard_gravity * offset, 1e-9);
}

TEST(Uncertainty, TellsWhatItWereWithoutTheScansPart) {
    const Uncertainty plain = sampled(off_axis(0.01), {});
    EXPECT_EQ(plain.gravity_torque_p95_seen_n_m, std::nullopt);
    EXPECT_EQ(plain.of_scans_n_m(), 0);
    const Uncertainty open = sampled(scanned(0.01, Mat3(16e-6 * Mat3::Identity())), {});
    EXPECT_NEAR(open.gravity_torque_p95_seen_n_m.value(), plain.gravity_torque_p95_n_m, 1e-12)
        << "the same draws";
    EXPECT_GT(open.gravity_torque_p95_n_m, plain.gravity_torque_p95_n_m);
    EXPECT_NEAR(open.of_scans_n_m(), open.gravity_torque_p95_n_m - plain.gravity_torque_p95_n_m, 1e-12);
    // A scan that left nothing open changes nothing.
    const Uncertainty sure = sampled(scanned(0.01, Mat3::Zero()), {});
    EXPECT_DOUBLE_EQ(sure.gravity_torque_p95_n_m, plain.gravity_torque_p95_n_m);
}

// The body in axes of its own, the covariance with it, and put on the rod the same way.
TEST(Uncertainty, IsTheSameInWhateverFrameTheBodyIs) {
    Mat3 covariance;
    covariance << 4e-6, 1e-6, -2e-6, 1e-6, 9e-6, 3e-6, -2e-6, 3e-6, 16e-6;
    const Assembly a = scanned(0.01, covariance);
    Assembly b = a;
    const Pose turn = Eigen::Translation3d(0.02, -0.5, 0.1) *
                      Eigen::AngleAxisd(1.1, Vec3(0.3, -0.5, 0.8).normalized()) * Pose::Identity();
    body::Body body = a.items[0].body->body;
    body.parts[0].mesh = transformed(body.parts[0].mesh, turn);
    body.centre_covariance_m2 = turned(covariance, turn);
    b.items[0].body = body::prepare(std::move(body));
    b.items[0].pose = a.items[0].pose * turn.inverse();
    const double once = sampled(a, {}).gravity_torque_p95_n_m;
    EXPECT_NEAR(sampled(b, {}).gravity_torque_p95_n_m / once, 1, 0.02) << "drawn in the body's own axes";
}

TEST(Uncertainty, WithoutItemsIsWithoutError) {
    Assembly a = test::good_load();
    a.items.clear();
    a.counterweights = {{.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.1, .clock_rad = 1, .diameter_m = 0.04}};
    EXPECT_NEAR(sampled(a, no_spread).gravity_torque_p95_n_m, standard_gravity * 0.03, 1e-12);
}

}  // namespace evenspit
