// SPDX-License-Identifier: MIT
#include "analysis/uncertainty.h"

#include <cmath>

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

TEST(Uncertainty, WithoutItemsIsWithoutError) {
    Assembly a = test::good_load();
    a.items.clear();
    a.counterweights = {{.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.1, .clock_rad = 1, .diameter_m = 0.04}};
    EXPECT_NEAR(sampled(a, {}).gravity_torque_p95_n_m, standard_gravity * 0.03, 1e-12);
}

}  // namespace evenspit
