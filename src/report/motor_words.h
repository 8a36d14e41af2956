// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "report/reader_units.h"
#include "rig/rig.h"

namespace evenspit {

/// One of so many equal parts: "half", "a third", "1/15".
///
/// \pre parts > 1
std::string equal_part(int parts);

/// Whose rating counts: "the motor's rating", or "this rod's sixth of the motor's rating".
std::string whose_rating(const Motor& motor);

/// A torque of a motor as this rod gets it: "2.5 N m", or "0.417 N m (a sixth of 2.5 N m: the motor turns 6
/// rods)".
///
/// \param share_n_m this rod's share
/// \param why whether to say how many rods there are
std::string shared_torque(const Motor& motor, double share_n_m, const Units& units, bool why = true);

}  // namespace evenspit
