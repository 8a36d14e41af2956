// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "analysis/finding.h"
#include "load/assembly.h"
#include "units/quantity.h"

namespace evenspit {

/// What a finding about tines in bone, under the skin or out through it says, and what to do.
///
/// \pre a code tine_in_bone, tine_cover, tine_out or tine_free
std::string tine_finding_text(const Finding& finding, const Assembly& assembly, UnitSystem units);

/// What a finding about a basket says, and what to do. \pre a code out_of_basket, loose_in_basket or
/// basket_full
std::string basket_finding_text(const Finding& finding, const Assembly& assembly, UnitSystem units);

/// What a finding about a bracket's legs says, and what to do. \pre a code leg_short or leg_off_spine
std::string bracket_finding_text(const Finding& finding, const Assembly& assembly, UnitSystem units);

}  // namespace evenspit
