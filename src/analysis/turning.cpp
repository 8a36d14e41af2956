// SPDX-License-Identifier: MIT
#include "analysis/turning.h"

#include <cmath>
#include <numbers>

namespace evenspit {
namespace {

/// Torques that differ by less than this share of the motor's rating are one torque.
constexpr double rounding_share = 1e-9;

}  // namespace

namespace {

void add_speeds(Turning& result, const Balance& balance, const Motor& motor) {
    if (motor.kind == MotorKind::synchronous) {
        result.speed_mean_rad_s = result.speed_min_rad_s = result.speed_max_rad_s = motor.speed_rad_s;
        result.irregularity = 0;
        return;
    }
    const double c = 1 - balance.friction_torque_n_m / motor.stall_torque_n_m,
                 b = balance.gravity_torque_peak_n_m / motor.stall_torque_n_m;
    result.speed_min_rad_s = motor.speed_rad_s * (c - b);
    result.speed_max_rad_s = motor.speed_rad_s * (c + b);
    result.speed_mean_rad_s = motor.speed_rad_s * std::sqrt((c - b) * (c + b));
    result.irregularity = (*result.speed_max_rad_s - *result.speed_min_rad_s) / *result.speed_mean_rad_s;
}

}  // namespace

Turning turning(const Balance& balance, const Motor& motor, const std::optional<DriveTrain>& train) {
    Turning result;
    const double lift = balance.gravity_torque_peak_n_m, friction = balance.friction_torque_n_m;
    result.stalls = balance.motor_torque_peak_n_m >= motor.stall_torque_n_m;
    // What rounding leaves of a balanced load is no heavy side.
    result.overruns = lift > friction + rounding_share * motor.rated_torque_n_m;
    if (result.overruns) {
        result.overrun_share = std::acos(friction / lift) / std::numbers::pi;
        result.pull_n_m = lift - friction;
    }
    result.play_rad = motor.play_rad;
    if (result.stalls) return result;
    add_speeds(result, balance, motor);
    if (result.overruns && train)
        result.knock_n_m = knock_torque(*train, lift, friction, *result.speed_mean_rad_s, motor.play_rad);
    return result;
}

Turning worse(Turning a, const Turning& b) {
    const Turning& pulls = b.pull_n_m > a.pull_n_m ? b : a;
    const bool more_knock = b.knock_n_m.value_or(0) > a.knock_n_m.value_or(0);
    const bool less_even = !a.stalls && (b.stalls || b.irregularity.value_or(0) > a.irregularity.value_or(0));
    Turning result = less_even ? b : a;
    result.overruns = pulls.overruns;
    result.overrun_share = pulls.overrun_share;
    result.pull_n_m = pulls.pull_n_m;
    result.knock_n_m = more_knock ? b.knock_n_m : a.knock_n_m;
    return result;
}

}  // namespace evenspit
