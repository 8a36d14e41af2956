// SPDX-License-Identifier: MIT
#include "analysis/turning.h"

#include <cmath>
#include <functional>
#include <numbers>

#include "analysis/balance.h"

namespace evenspit {
namespace {

/// Torques that differ by less than this share of the motor's rating are one torque.
constexpr double rounding_share = 1e-9;

/// Turn angles that share a turn evenly.
constexpr int angles = 720;

/// The mean over a turn of what a function makes of the motor's torque.
double mean_over_a_turn(const Balance& balance, const std::function<double(double torque_n_m)>& of) {
    double sum = 0;
    for (int k = 0; k < angles; ++k)
        sum += of(motor_torque_at(balance, 2 * std::numbers::pi * (k + 0.5) / angles));
    return sum / angles;
}

void add_speeds(Turning& result, const Balance& balance, const Motor& motor, const TorqueRange& range) {
    if (motor.kind == MotorKind::synchronous) {
        result.speed_mean_rad_s = result.speed_min_rad_s = result.speed_max_rad_s = motor.speed_rad_s;
        result.irregularity = 0;
        return;
    }
    const double stall = motor.stall_torque_n_m;
    if (balance.flats == 0) {
        const double c = 1 - balance.friction_torque_n_m / stall, b = balance.gravity_torque_peak_n_m / stall;
        result.speed_min_rad_s = motor.speed_rad_s * (c - b);
        result.speed_max_rad_s = motor.speed_rad_s * (c + b);
        result.speed_mean_rad_s = motor.speed_rad_s * std::sqrt((c - b) * (c + b));
    } else {
        result.speed_min_rad_s = motor.speed_rad_s * (1 - range.greatest_n_m / stall);
        result.speed_max_rad_s = motor.speed_rad_s * (1 - range.least_n_m / stall);
        result.speed_mean_rad_s = motor.speed_rad_s / mean_over_a_turn(balance, [stall](double torque) {
                                      return 1 / (1 - torque / stall);
                                  });
    }
    result.irregularity = (*result.speed_max_rad_s - *result.speed_min_rad_s) / *result.speed_mean_rad_s;
}

}  // namespace

Turning turning(const Balance& balance, const Motor& motor, const std::optional<DriveTrain>& train) {
    Turning result;
    const double lift = balance.gravity_torque_peak_n_m, friction = balance.friction_torque_n_m;
    const TorqueRange range = torque_range(balance);
    result.stalls = balance.motor_torque_peak_n_m >= motor.stall_torque_n_m;
    // What rounding leaves of a balanced load is no heavy side.
    result.overruns = range.least_n_m < -rounding_share * motor.rated_torque_n_m;
    if (result.overruns) {
        result.overrun_share =
            balance.flats == 0
                ? std::acos(friction / lift) / std::numbers::pi
                : mean_over_a_turn(balance, [](double torque) { return torque < 0 ? 1.0 : 0.0; });
        result.pull_n_m = -range.least_n_m;
    }
    result.play_rad = motor.play_rad;
    if (result.stalls) return result;
    add_speeds(result, balance, motor, range);
    if (result.overruns && lift > friction && train)
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
