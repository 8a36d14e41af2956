// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "load/assembly.h"
#include "report/page.h"
#include "units/quantity.h"

namespace evenspit {

/// What can hurt someone with this load, each once and short, and only what applies to it; fit for a
/// terminal.
std::vector<std::string> caution_words(const Assembly& assembly, UnitSystem units);

/// The same as the last part of a page.
void put_cautions(Page& page, const Assembly& assembly, UnitSystem units);

}  // namespace evenspit
