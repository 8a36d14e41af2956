// SPDX-License-Identifier: MIT
#include "app/viewer/turn_play.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenspit::viewer {
namespace {

constexpr double full_turn = 2 * std::numbers::pi;
// So small that the speed hardly changes within one.
constexpr double step_rad = full_turn / 720;
// Whoever leaves the window hidden for an hour does not want an hour's turns computed.
constexpr double longest_leap_s = 5;

}  // namespace

double torque_at(const Balance& balance, double turn_rad) {
    return balance.gravity_torque_peak_n_m * std::cos(balance.heavy_side_rad + turn_rad) +
           balance.friction_torque_n_m;
}

double speed_at(const Balance& balance, const Motor& motor, double turn_rad) {
    const double torque = torque_at(balance, turn_rad);
    if (motor.kind == MotorKind::synchronous) return torque < motor.stall_torque_n_m ? motor.speed_rad_s : 0;
    return std::max(0.0, motor.speed_rad_s * (1 - torque / motor.stall_torque_n_m));
}

void TurnPlay::set(double angle) {
    angle_rad = std::fmod(angle, full_turn);
    if (angle_rad < 0) angle_rad += full_turn;
}

void TurnPlay::advance(double seconds, const Balance& balance, const Motor& motor) {
    if (!playing) return;
    double left = std::clamp(seconds, 0.0, longest_leap_s) * pace;
    double angle = angle_rad;
    while (left > 0) {
        // Midpoint rule: the speed half-way through the step.
        const double first = speed_at(balance, motor, angle);
        if (first <= 0) break;
        const double ahead = std::min(step_rad, first * left);
        const double speed = speed_at(balance, motor, angle + ahead / 2);
        if (speed <= 0) break;
        const double spent = std::min(left, ahead / speed);
        angle += speed * spent;
        left -= spent;
    }
    set(angle);
}

}  // namespace evenspit::viewer
