// SPDX-License-Identifier: MIT
#pragma once

#include "analysis/turn_law.h"

namespace evenspit::viewer {

/// The load as it turns before the watcher's eyes: a lopsided one lingers where it is heavy to lift.
struct TurnPlay {
    double angle_rad = 0;  ///< 0 ≤ a < 2π
    bool playing = false;
    double pace = 1;  ///< times true speed

    /// Moves on by `seconds` of the watcher's time; see angle_after().
    void advance(double seconds, const Balance& balance, const Motor& motor);
    void set(double angle);
};

}  // namespace evenspit::viewer
