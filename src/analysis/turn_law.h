// SPDX-License-Identifier: MIT
#pragma once

#include "analysis/results.h"
#include "rig/rig.h"

namespace evenspit {

/// Speed at a turn angle, rad/s, never less than 0, by the laws of turning().
double speed_at(const Balance& balance, const Motor& motor, double turn_rad);

/// Where the load is after so many seconds, by the speed that the motor gives at each angle; a motor that
/// stalls comes to rest at the angle that it cannot lift beyond. Midpoint rule in steps of half a degree.
///
/// \param seconds from 0
/// \return rad, not brought back within a turn
double angle_after(const Balance& balance, const Motor& motor, double turn_rad, double seconds);

}  // namespace evenspit
