// SPDX-License-Identifier: MIT
#include "analysis/turn_law.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "analysis/balance.h"

namespace evenspit {
namespace {

// So small that the speed hardly changes within one.
constexpr double step_rad = 2 * std::numbers::pi / 720;

}  // namespace

double speed_at(const Balance& balance, const Motor& motor, double turn_rad) {
    const double torque = motor_torque_at(balance, turn_rad);
    if (motor.kind == MotorKind::synchronous) return torque < motor.stall_torque_n_m ? motor.speed_rad_s : 0;
    return std::max(0.0, motor.speed_rad_s * (1 - torque / motor.stall_torque_n_m));
}

double angle_after(const Balance& balance, const Motor& motor, double turn_rad, double seconds) {
    double angle = turn_rad, left = seconds;
    while (left > 0) {
        const double first = speed_at(balance, motor, angle);
        if (first <= 0) break;
        const double ahead = std::min(step_rad, first * left);
        const double speed = speed_at(balance, motor, angle + ahead / 2);
        if (speed <= 0) break;
        const double spent = std::min(left, ahead / speed);
        angle += speed * spent;
        left -= spent;
    }
    return angle;
}

}  // namespace evenspit
