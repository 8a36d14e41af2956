// SPDX-License-Identifier: MIT
#include "analysis/turn_law.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "analysis/balance.h"
#include "analysis/loads.h"
#include "analysis/turning.h"

namespace evenspit {
namespace {

using std::numbers::pi;
using test::degree;
using test::lopsided;

TEST(TurnLaw, AWholeTurnTakesWhatTheMeanSpeedSays) {
    const Balance balance = lopsided(2, 30 * degree);
    const Motor motor = test::small_motor();
    const double turn_s = 2 * pi / *turning(balance, motor).speed_mean_rad_s;
    EXPECT_NEAR(angle_after(balance, motor, 0, turn_s), 2 * pi, 2e-5);
    EXPECT_NEAR(angle_after(balance, motor, 1, 7 * turn_s), 1 + 14 * pi, 2e-4);
    EXPECT_EQ(angle_after(balance, motor, 1, 0), 1);
}

TEST(TurnLaw, IsSlowestAndFastestWhereTurningSays) {
    const Balance balance = lopsided(3, 0);
    const Motor motor = test::small_motor();
    // At angle 0 the heavy side is at +Y, where lifting it needs the most.
    EXPECT_NEAR(motor_torque_at(balance, 0), 3.05, 1e-12);
    EXPECT_NEAR(motor_torque_at(balance, pi / 2), 0.05, 1e-12);
    EXPECT_NEAR(speed_at(balance, motor, 0), *turning(balance, motor).speed_min_rad_s, 1e-12);
    EXPECT_NEAR(speed_at(balance, motor, pi), *turning(balance, motor).speed_max_rad_s, 1e-12);
}

TEST(TurnLaw, StandsWhereTheMotorStalls) {
    const Balance balance = lopsided(6, 0);
    const Motor motor = test::small_motor();
    // T = 6 cos θ + 0.05 reaches 5 N m on the way from π to 2π.
    EXPECT_NEAR(angle_after(balance, motor, pi, 1000), 2 * pi - std::acos(4.95 / 6), 0.02);
    EXPECT_EQ(speed_at(balance, motor, 0), 0);
    Motor steady = motor;
    steady.kind = MotorKind::synchronous;
    EXPECT_EQ(speed_at(balance, steady, 0), 0);
}

TEST(TurnLaw, SynchronousMotorsKeepTheirSpeed) {
    Motor motor = test::small_motor();
    motor.kind = MotorKind::synchronous;
    EXPECT_NEAR(angle_after(lopsided(2, 1), motor, 0.5, 3), 0.5 + 3 * motor.speed_rad_s, 1e-9);
}

}  // namespace
}  // namespace evenspit
