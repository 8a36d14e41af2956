// SPDX-License-Identifier: MIT
#include "analysis/turning.h"

#include <cmath>
#include <numbers>

namespace evenspit {
namespace {

/// Torques that differ by less than this share of the motor's rating are one torque.
constexpr double rounding_share = 1e-9;

}  // namespace

Turning turning(const Balance& balance, const Motor& motor) {
    Turning result;
    const double lift = balance.gravity_torque_peak_n_m, friction = balance.friction_torque_n_m;
    result.stalls = balance.motor_torque_peak_n_m >= motor.stall_torque_n_m;
    // What rounding leaves of a balanced load is no heavy side.
    result.overruns = lift > friction + rounding_share * motor.rated_torque_n_m;
    if (result.overruns) result.overrun_share = std::acos(friction / lift) / std::numbers::pi;
    if (result.stalls) return result;

    if (motor.kind == MotorKind::synchronous) {
        result.speed_mean_rad_s = result.speed_min_rad_s = result.speed_max_rad_s = motor.speed_rad_s;
        result.irregularity = 0;
        return result;
    }
    const double c = 1 - friction / motor.stall_torque_n_m, b = lift / motor.stall_torque_n_m;
    result.speed_min_rad_s = motor.speed_rad_s * (c - b);
    result.speed_max_rad_s = motor.speed_rad_s * (c + b);
    result.speed_mean_rad_s = motor.speed_rad_s * std::sqrt((c - b) * (c + b));
    result.irregularity = (*result.speed_max_rad_s - *result.speed_min_rad_s) / *result.speed_mean_rad_s;
    return result;
}

}  // namespace evenspit
