// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "load/assembly.h"
#include "load/load_change.h"
#include "report/json_writer.h"
#include "units/quantity.h"

namespace evenspit {

/// What to do about a load beyond moving things, a sentence each.
///
/// \param before the load without these changes
/// \param after with them
std::vector<std::string> change_steps(const std::vector<LoadChange>& changes, const Assembly& before,
                                      const Assembly& after, UnitSystem units);

/// The same as results hold it: kind, and item or rod.
Json changes_json(const std::vector<LoadChange>& changes);

}  // namespace evenspit
