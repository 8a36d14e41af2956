// SPDX-License-Identifier: MIT
#pragma once

#include <string>

namespace evenspit {

// Places round the rod as hours of a clock face, which is how they are told to a cook; files take the clock
// angle. The face is seen from the rod's point, at the start of the turn: 12 is up (clock angle 90°), 3 is
// clock angle 0°, and the hours run against the clock angle. An hour is 30°.

/// How finely the hand of the face is read.
enum class DialSteps {
    /// 15°: as finely as one holds a bird to a dial, or knows a heavy side. "half past 2".
    half_hours,
    /// 2.5°: what is set, where half hours do not say it. "20 minutes past 2", "a quarter to 12".
    minutes
};

/// "12 o'clock", "half past 2".
std::string dial_text(double clock_rad, DialSteps steps = DialSteps::half_hours);

/// The same with the clock angle that files take: "half past 2 (75°)".
std::string dial_and_clock_text(double clock_rad, DialSteps steps = DialSteps::half_hours);

/// A turn by so many hours of the face, whichever way: "2 hours", "half an hour", "1 1/2 hours", "1 hour and
/// 10 minutes"; under a step "0 hours".
std::string dial_turn_text(double by_rad);

}  // namespace evenspit
