// SPDX-License-Identifier: MIT
#pragma once

#include "analysis/analysis.h"

namespace evenspit::viewer {

/// Motor torque at a turn angle, N m: T(θ) = g |U| cos(heavy side + θ) + friction.
double torque_at(const Balance& balance, double turn_rad);

/// The load as it turns: the angle moves on with the speed that the motor gives at each angle, so that a
/// lopsided load lingers where it is heavy to lift.
struct TurnPlay {
    double angle_rad = 0;  ///< 0 ≤ a < 2π
    bool playing = false;
    double pace = 1;  ///< times true speed

    /// Moves on by `seconds` of the watcher's time. A motor that stalls comes to rest at the angle that it
    /// cannot lift beyond.
    void advance(double seconds, const Balance& balance, const Motor& motor);
    void set(double angle);
};

/// Speed at a turn angle, rad/s, never less than 0; see turning().
double speed_at(const Balance& balance, const Motor& motor, double turn_rad);

}  // namespace evenspit::viewer
