// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "load/assembly.h"
#include "units/quantity.h"

namespace evenspit {

/// "9 o'clock and 3 o'clock", where the tines of a fork stand at the start of the turn.
std::string tines_text(const Fork& fork);

/// How to put a load on its rod as it is written, a sentence or two each, in the order in which hands do it:
/// what sits nearest the square end goes over the rod's point first. Counterweights are left out.
std::vector<std::string> mounting_steps(const Assembly& assembly, UnitSystem units);

/// Where each counterweight of the load file goes, a sentence each.
std::vector<std::string> counterweight_steps(const Assembly& assembly, UnitSystem units);

/// How to roll the load on two level supports before the fire is lit.
std::vector<std::string> rolling_steps(const Assembly& assembly);

/// How to take a roast off the fire and off its rod, in the order in which hands do it.
///
/// \param stand_s how long it is to stand before it is carved; 0: not known
std::vector<std::string> taking_down_steps(const Assembly& assembly, double stand_s);

}  // namespace evenspit
