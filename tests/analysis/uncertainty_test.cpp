// SPDX-License-Identifier: MIT
#include "analysis/uncertainty.h"

#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <random>
#include <utility>

#include <gtest/gtest.h>

#include "loads.h"

namespace evenspit {
namespace {

constexpr InputSpread no_spread{.rod_line_m = 0, .mass = 0, .centre_m = 0, .friction = 0, .stall_torque = 0};

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
    Body body = a.items[0].body->body;
    body.centre_covariance_m2 = covariance;
    a.items[0].body = prepare(std::move(body));
    return a;
}

Uncertainty sampled(const Assembly& a, const InputSpread& spread, int samples = 4000) {
    const std::vector<PlacedItem> placed = place_items(a);
    return uncertainty(a, placed, balance(turning_masses(a, placed), a.motor, *a.motor.friction_torque_n_m),
                       spread, samples);
}

}  // namespace

TEST(Uncertainty, IsTheSameEveryTime) {
    const Assembly a = off_axis(0.01);
    const Uncertainty once = sampled(a, {}), again = sampled(a, {});
    EXPECT_EQ(once.gravity_torque_p95_n_m, again.gravity_torque_p95_n_m);
    EXPECT_EQ(once.stall_probability, again.stall_probability);
    EXPECT_EQ(once.samples, 4000);
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
    const InputSpread spread{
        .rod_line_m = 0.004, .mass = 0.01, .centre_m = 0.002, .friction = 0, .stall_torque = 0};
    const double sigma_m = std::hypot(0.004 / std::sqrt(2.0), 0.002);
    const double expected = 2 * standard_gravity * sigma_m * std::sqrt(-2 * std::log(0.05));
    EXPECT_NEAR(sampled(off_axis(0), spread, 100000).gravity_torque_p95_n_m / expected, 1, 0.01);
    EXPECT_NEAR(sampled(off_axis(0), spread).gravity_torque_p95_n_m / expected, 1, 0.04);
}

// Far off the axis only the errors along the heavy side count: one normal distribution, 95th percentile 1.645
// σ.
TEST(Uncertainty, OfAHeavySideIsANormalDistribution) {
    const InputSpread spread{
        .rod_line_m = 0, .mass = 0.02, .centre_m = 0.002, .friction = 0, .stall_torque = 0};
    const double offset = 0.2, sigma = std::hypot(0.02 * offset, 0.002);
    const double expected = 2 * standard_gravity * (offset + 1.645 * sigma);
    EXPECT_NEAR(sampled(off_axis(offset), spread, 100000).gravity_torque_p95_n_m / expected, 1, 0.002);
}

TEST(Uncertainty, GrowsWithTheSpread) {
    double last = sampled(off_axis(0.01), no_spread).gravity_torque_p95_n_m;
    for (const double line : {0.002, 0.004, 0.008}) {
        const double p95 = sampled(off_axis(0.01), {.rod_line_m = line}).gravity_torque_p95_n_m;
        EXPECT_GT(p95, last) << line;
        last = p95;
    }
}

// The first load's deviates, drawn anew as the source describes them (Box and Muller on the generator of the
// C++ standard): mass, then y and z at the end toward the drive, then at the other end. At the body's centre
// of mass each end counts by how near it is.
TEST(Uncertainty, OfALineCountsTheNearerEndMore) {
    std::mt19937 engine(20240229);
    std::array<double, 5> deviates{};
    for (double& deviate : deviates) {
        const double u = (static_cast<double>(engine()) + 1) / 4294967297.0;
        const double v = static_cast<double>(engine()) / 4294967296.0;
        deviate = std::sqrt(-2 * std::log(u)) * std::cos(2 * std::numbers::pi * v);
    }
    const Vec2 at_drive_end(deviates[1], deviates[2]), at_far_end(deviates[3], deviates[4]);
    InputSpread spread = no_spread;
    spread.rod_line_m = 0.004;
    // Two blocks in one body, 200 mm long in all: its centre of mass lies 63 mm from the thick end.
    const auto peak = [&spread](double thick_from, double thick_to) {
        Assembly a = test::good_load();
        Body body = test::flesh(test::box_mesh({thick_from, -0.05, -0.05}, {thick_to, 0.05, 0.05}));
        const double thin_from = thick_from < 0 ? thick_to : -0.1,
                     thin_to = thick_from < 0 ? 0.1 : thick_from;
        body.parts.push_back({.name = "shank",
                              .kind = PartKind::flesh,
                              .mesh = test::box_mesh({thin_from, -0.02, -0.02}, {thin_to, 0.02, 0.02}),
                              .density_kg_m3 = 1000,
                              .parent = -1,
                              .regions = {}});
        a.items = {test::item("leg", body, 0.34)};
        return sampled(a, spread, 1).gravity_torque_p95_n_m;
    };
    const double thick_kg = 0.1 * 0.1 * 0.1 * 1000, thin_kg = 0.1 * 0.04 * 0.04 * 1000;
    const double mass_kg = thick_kg + thin_kg;
    const double near =
        (thick_kg * 0.05 + thin_kg * 0.15) / 0.2 / mass_kg;  // of the length, from the thick end
    const double per_m = standard_gravity * mass_kg * spread.rod_line_m;
    EXPECT_NEAR(peak(-0.1, 0), per_m * ((1 - near) * at_drive_end + near * at_far_end).norm(), 1e-9);
    EXPECT_NEAR(peak(0, 0.1), per_m * (near * at_drive_end + (1 - near) * at_far_end).norm(), 1e-9);
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
    InputSpread spread = no_spread;
    spread.stall_torque = 0.1;
    EXPECT_NEAR(sampled(a, spread, 100000).stall_probability, 0.5, 0.01);
}

// The same, with friction alone uncertain, and half of the peak.
TEST(Uncertainty, FrictionToo) {
    Assembly a = off_axis(0.05);
    a.motor.friction_torque_n_m = 2 * standard_gravity * 0.05;
    a.motor.stall_torque_n_m = 2 * *a.motor.friction_torque_n_m;
    InputSpread spread = no_spread;
    spread.friction = 0.3;
    EXPECT_NEAR(sampled(a, spread, 100000).stall_probability, 0.5, 0.01);
    // One standard deviation more: 15.87 % lie beyond.
    a.motor.stall_torque_n_m += 0.3 * *a.motor.friction_torque_n_m;
    EXPECT_NEAR(sampled(a, spread, 100000).stall_probability, 0.1587, 0.005);
}

// Errors of one size each way add in squares to those that no shape knows; 95th percentile as above.
TEST(Uncertainty, OfAScanAsOpenEachWayIsARayleighDistribution) {
    InputSpread spread = no_spread;
    spread.centre_m = 0.002;
    const Assembly a = scanned(0, Mat3(0.003 * 0.003 * Mat3::Identity()));
    const double expected = 2 * standard_gravity * std::hypot(0.002, 0.003) * std::sqrt(-2 * std::log(0.05));
    EXPECT_NEAR(sampled(a, spread, 100000).gravity_torque_p95_n_m / expected, 1, 0.01);
}

// Open along one line only: the size of a normal deviate, of which 95 of 100 are under 1.960 σ.
TEST(Uncertainty, OfAScanOpenAlongALineIsAHalfNormalDistribution) {
    const Vec3 along = Vec3(0.2, 0.3, -0.6);
    const double sigma = 0.003 * along.tail<2>().norm();
    const Assembly a = scanned(0, Mat3(0.003 * 0.003 * along * along.transpose()));
    EXPECT_NEAR(sampled(a, no_spread, 100000).gravity_torque_p95_n_m / (2 * standard_gravity * 1.960 * sigma),
                1, 0.01);
}

// With a heavy side (+z) only the errors along it count, 95 of 100 under 1.645 σ.
TEST(Uncertainty, OfAScanCountsAlongTheHeavySide) {
    const double offset = 0.2;
    Mat3 covariance;
    covariance << 9e-6, 0, 0, 0, 16e-6, 10e-6, 0, 10e-6, 25e-6;
    const auto p95 = [&](const Mat3& c) {
        return sampled(scanned(offset, c), no_spread, 100000).gravity_torque_p95_n_m;
    };
    EXPECT_NEAR(p95(covariance), 2 * standard_gravity * (offset + 1.645 * 0.005), 5e-4);
    // Along the rod an error does not show.
    EXPECT_NEAR(p95(Mat3(Vec3(1e-4, 0, 0).asDiagonal())), 2 * standard_gravity * offset, 1e-9);
}

TEST(Uncertainty, TellsWhatItWereWithoutTheScansPart) {
    const Uncertainty plain = sampled(off_axis(0.01), {});
    EXPECT_EQ(plain.gravity_torque_p95_seen_n_m, std::nullopt);
    EXPECT_EQ(plain.of_scans_n_m(), 0);
    const Uncertainty open = sampled(scanned(0.01, Mat3(16e-6 * Mat3::Identity())), {});
    EXPECT_EQ(open.gravity_torque_p95_seen_n_m, plain.gravity_torque_p95_n_m) << "the same draws";
    EXPECT_GT(open.gravity_torque_p95_n_m, plain.gravity_torque_p95_n_m);
    EXPECT_EQ(open.of_scans_n_m(), open.gravity_torque_p95_n_m - plain.gravity_torque_p95_n_m);
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
    Body body = a.items[0].body->body;
    body.parts[0].mesh = transformed(body.parts[0].mesh, turn);
    body.centre_covariance_m2 = turned(covariance, turn);
    b.items[0].body = prepare(std::move(body));
    b.items[0].pose = a.items[0].pose * turn.inverse();
    const double once = sampled(a, {}).gravity_torque_p95_n_m;
    EXPECT_NEAR(sampled(b, {}).gravity_torque_p95_n_m / once, 1, 1e-9);
}

TEST(Uncertainty, WithoutItemsIsWithoutError) {
    Assembly a = test::good_load();
    a.items.clear();
    a.counterweights = {{.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.1, .clock_rad = 1, .diameter_m = 0.04}};
    EXPECT_NEAR(sampled(a, {}).gravity_torque_p95_n_m, standard_gravity * 0.03, 1e-12);
}

}  // namespace evenspit
