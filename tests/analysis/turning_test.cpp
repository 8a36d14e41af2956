// SPDX-License-Identifier: MIT
#include "analysis/turning.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "analysis/balance.h"
#include "loads.h"

namespace evenspit {
namespace {

using std::numbers::pi;

/// A load of one weight whose gravity torque has a given peak.
Balance peak_torque(double gravity_n_m, double friction_n_m, const Motor& motor) {
    return balance({{1, {0.3, gravity_n_m / standard_gravity, 0}}}, motor, friction_n_m);
}

Turning turn(double gravity_n_m, double friction_n_m, MotorKind kind = MotorKind::dc) {
    Motor motor = test::small_motor();  // stalls at 5 N m
    motor.kind = kind;
    return turning(peak_torque(gravity_n_m, friction_n_m, motor), motor);
}

}  // namespace

TEST(Turning, WithoutLoadRunsAtItsNoLoadSpeed) {
    const Turning t = turn(0, 0);
    const double speed = test::small_motor().speed_rad_s;
    EXPECT_FALSE(t.stalls);
    EXPECT_FALSE(t.overruns);
    EXPECT_EQ(t.overrun_share, 0);
    EXPECT_DOUBLE_EQ(*t.speed_mean_rad_s, speed);
    EXPECT_DOUBLE_EQ(*t.speed_min_rad_s, speed);
    EXPECT_DOUBLE_EQ(*t.speed_max_rad_s, speed);
    EXPECT_EQ(*t.irregularity, 0);
}

// Line from no-load to stall: a steady 1 N m of friction out of 5 takes a fifth of the speed.
TEST(Turning, SteadyFrictionSlowsADcMotor) {
    const Turning t = turn(0, 1);
    EXPECT_NEAR(*t.speed_mean_rad_s, 0.8 * test::small_motor().speed_rad_s, 1e-15);
    EXPECT_NEAR(*t.irregularity, 0, 1e-15);
}

// A = 2 N m, F = 1 N m, T_stall = 5 N m: c = 0.8, b = 0.4; min 0.4, max 1.2, mean √0.48 of the no-load speed.
TEST(Turning, UnbalanceMakesADcMotorUneven) {
    const Turning t = turn(2, 1);
    const double speed = test::small_motor().speed_rad_s;
    EXPECT_NEAR(*t.speed_min_rad_s, 0.4 * speed, 1e-15);
    EXPECT_NEAR(*t.speed_max_rad_s, 1.2 * speed, 1e-15);
    EXPECT_NEAR(*t.speed_mean_rad_s, std::sqrt(0.48) * speed, 1e-15);
    EXPECT_NEAR(*t.irregularity, 0.8 / std::sqrt(0.48), 1e-14);
    EXPECT_TRUE(t.overruns);
    EXPECT_NEAR(t.overrun_share, 1.0 / 3, 1e-14);  // cos < −½ over a third of a turn
}

// A full turn takes ∮dθ/ω: the closed form against quadrature (the trapezoid rule converges exponentially
// here).
TEST(Turning, MeanSpeedIsATurnOverTheTimeItTakes) {
    const bool held = rc::check("closed form and quadrature", [] {
        const Motor motor = test::small_motor();
        const double friction = *rc::gen::inRange(0, 200) / 100.0;
        const double gravity = (4.9 - friction) * *rc::gen::inRange(0, 1000) / 1000.0;
        const Balance b = peak_torque(gravity, friction, motor);
        const Turning t = turning(b, motor);
        RC_ASSERT(!t.stalls);
        constexpr int steps = 4096;
        double time_s = 0, slowest = INFINITY, fastest = 0;
        for (int k = 0; k < steps; ++k) {
            const double torque = gravity * std::cos(2 * pi * k / steps) + friction;
            const double speed = motor.speed_rad_s * (1 - torque / motor.stall_torque_n_m);
            time_s += 2 * pi / steps / speed;
            slowest = std::min(slowest, speed);
            fastest = std::max(fastest, speed);
        }
        RC_ASSERT(std::abs(*t.speed_mean_rad_s * time_s / (2 * pi) - 1) <= 1e-9);
        RC_ASSERT(std::abs(*t.speed_min_rad_s / slowest - 1) <= 1e-9);
        RC_ASSERT(std::abs(*t.speed_max_rad_s / fastest - 1) <= 1e-9);
        RC_ASSERT(std::abs(*t.irregularity - (fastest - slowest) / *t.speed_mean_rad_s) <=
                  1e-9 * (1 + *t.irregularity));
    });
    EXPECT_TRUE(held);
}

// Flats without torque change nothing: the midpoint rule over a turn must find what the closed forms say.
TEST(Turning, OnFlatsMeansAreTakenOverTheTurn) {
    const Motor motor = test::small_motor();
    const Balance smooth = balance({{1, {0.3, 0.06, 0.08}}}, motor, 0.2);
    const Balance rough = balance({{1, {0.3, 0.06, 0.08}}}, motor, 0.2, {4, 0});
    const Turning a = turning(smooth, motor), b = turning(rough, motor);
    EXPECT_NEAR(*b.speed_mean_rad_s, *a.speed_mean_rad_s, 1e-9);
    EXPECT_NEAR(*b.speed_min_rad_s, *a.speed_min_rad_s, 1e-12);
    EXPECT_NEAR(*b.irregularity, *a.irregularity, 1e-9);
    EXPECT_NEAR(b.overrun_share, a.overrun_share, 1.0 / 720);
    EXPECT_NEAR(b.pull_n_m, a.pull_n_m, 1e-12);
    // A balanced load on rough flats is uneven all the same, and pulls the gears as it falls off each corner.
    const Turning falls = turning(balance({{1, {0.3, 0, 0}}}, motor, 0.05, {4, 0.3}), motor);
    EXPECT_NEAR(falls.pull_n_m, 0.25, 1e-12);
    EXPECT_NEAR(*falls.irregularity, 0.6 / 5 / (1 - 0.05 / 5), 2e-3);
    EXPECT_FALSE(falls.knock_n_m.has_value());
}

TEST(Turning, OverrunShareIsWhereTheLoadDrives) {
    const bool held = rc::check("share of angles with a negative torque", [] {
        const double gravity = *rc::gen::inRange(1, 300) / 100.0,
                     friction = *rc::gen::inRange(0, 150) / 100.0;
        const Turning t = turn(gravity, friction);
        constexpr int steps = 20000;
        int driving = 0;
        for (int k = 0; k < steps; ++k) {
            if (gravity * std::cos(2 * pi * (k + 0.5) / steps) + friction < 0) ++driving;
        }
        RC_ASSERT(std::abs(t.overrun_share - static_cast<double>(driving) / steps) <= 2.0 / steps);
        RC_ASSERT(t.overruns == (gravity > friction));
    });
    EXPECT_TRUE(held);
}

TEST(Turning, StandsWhenThePeakReachesTheStallTorque) {
    for (const MotorKind kind : {MotorKind::dc, MotorKind::synchronous}) {
        EXPECT_FALSE(turn(4, 0.999, kind).stalls);
        EXPECT_TRUE(turn(0, 5, kind).stalls) << "exactly at the limit";
        const Turning stalled = turn(4.5, 0.6, kind);
        EXPECT_TRUE(stalled.stalls);
        EXPECT_FALSE(stalled.speed_mean_rad_s);
        EXPECT_FALSE(stalled.speed_min_rad_s);
        EXPECT_FALSE(stalled.speed_max_rad_s);
        EXPECT_FALSE(stalled.irregularity);
        EXPECT_TRUE(stalled.overruns) << "it would, if it turned";
    }
}

TEST(Turning, ASynchronousMotorKeepsItsSpeed) {
    const Turning t = turn(3, 1.5, MotorKind::synchronous);
    const double speed = test::small_motor().speed_rad_s;
    EXPECT_EQ(*t.speed_mean_rad_s, speed);
    EXPECT_EQ(*t.speed_min_rad_s, speed);
    EXPECT_EQ(*t.speed_max_rad_s, speed);
    EXPECT_EQ(*t.irregularity, 0);
    EXPECT_TRUE(t.overruns);
}

TEST(Turning, OverrunsOnlyAgainstLessFriction) {
    EXPECT_FALSE(turn(0.9, 1).overruns);
    EXPECT_TRUE(turn(1.1, 1).overruns);
    EXPECT_NEAR(turn(1, 0).overrun_share, 0.5, 1e-15) << "without friction it is half of every turn";
}

// What rounding leaves of a balanced load is not a heavy side, even on a rod without friction.
TEST(Turning, RoundingDoesNotOverrun) {
    const Turning t = turn(1e-15, 0);
    EXPECT_FALSE(t.overruns);
    EXPECT_EQ(t.overrun_share, 0);
}

}  // namespace evenspit
