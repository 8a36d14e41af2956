// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "analysis/finding.h"
#include "load/assembly.h"
#include "units/quantity.h"

namespace evenspit {

/// What holds an item against turning on the rod, or that nothing does, as a sentence or two.
///
/// \pre its code is no_fork, no_flesh or grip_torque
std::string grip_text(const Finding& finding, const Assembly& assembly, UnitSystem units);

}  // namespace evenspit
