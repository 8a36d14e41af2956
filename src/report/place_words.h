// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>

#include "load/assembly.h"
#include "units/quantity.h"

namespace evenspit {

/// Where to put a strip of tape on the rod: "190 mm from the square end", the end that seats in the motor;
/// with a mark "190 mm from the square end (165 mm past the mark)".
std::string tape_text(double station_m, std::optional<double> mark_m, UnitSystem units);

/// What to do about forks_looking_away(): "Fork 1 looks away from it: turn it round, …"; "" if there are
/// none.
std::string looking_away_text(const Assembly& assembly, std::size_t item);

}  // namespace evenspit
