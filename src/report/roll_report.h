// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "report/report.h"
#include "trim/trim.h"

namespace evenspit {

/// What a roll test says, for a cook: what to mind first, what was found and what follows from it, then what
/// to do, in the order in which hands do it, and the verdict after.
///
/// \param rolled the load with its tests
std::string roll_text(const Assembly& rolled, const Trim& trim, const TextOptions& options);

/// The result of the trimmed load as json_report() has it, and `roll`: what was found, what it implies, the
/// counterweights to add, and the verdict before.
std::string roll_json(const Assembly& rolled, const Trim& trim);

/// What the tests imply, a few words each, the likeliest first: "the rod runs 6 mm nearer the back of turkey
/// than you meant".
std::vector<std::string> implied_words(const Assembly& rolled, const Trim& trim, UnitSystem units);

}  // namespace evenspit
