// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "analysis/knock.h"
#include "analysis/results.h"
#include "rig/rig.h"

namespace evenspit {

/// Speed over a turn under T(θ) = A cos(…) + F, inertia of the load left out (it is nothing against the
/// gears' at spit speed).
///
/// dc: ω = ω₀ (1 − T/T_stall), above ω₀ where the load drives; a turn takes ∮dθ/ω, so the mean is ω₀ √(c² −
/// b²) with c = 1 − F/T_stall and b = A/T_stall. synchronous: ω₀ throughout. Either stands when the peak
/// reaches the stall torque. The load overruns the gears where T < 0, but not by mere rounding. Where the rod
/// turns on its flats, means over a turn are taken by the midpoint rule at 720 angles. The knock is that of
/// gravity and friction alone.
///
/// \param train what the load is to the drive; absent: no knock is worked out
Turning turning(const Balance& balance, const Motor& motor, const std::optional<DriveTrain>& train = {});

/// Question by question the worse of two: the one that is less even, and how hard either pulls and knocks.
Turning worse(Turning a, const Turning& b);

}  // namespace evenspit
