// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "load/assembly.h"
#include "units/quantity.h"

namespace evenspit {

/// What can hurt someone with this load, each once and short, and only what applies to it; fit for a
/// terminal.
std::vector<std::string> caution_words(const Assembly& assembly, UnitSystem units);

}  // namespace evenspit
