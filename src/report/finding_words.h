// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "analysis/finding.h"
#include "load/assembly.h"
#include "units/quantity.h"

namespace evenspit {

/// A finding in one plain sentence or two, in the reader's units: what it is and what to do about it.
/// Findings are put into words here and nowhere else.
///
/// \param assembly names the things that it is about
std::string finding_text(const Finding& finding, const Assembly& assembly, UnitSystem units);

/// "Move the rod line 12 mm toward it, or set a counterweight opposite: 300 g or more at 100 mm.", with the
/// heavy side before it.
std::string rebalance_text(const Rebalance& mend, UnitSystem units);

/// How to find the heavy side once the load is on the rod, where no drawing knows it.
std::string_view balance_on_the_rod_text();

/// A counterweight that takes off so much unbalance: "300 g or more at 100 mm".
std::string counterweight_text(double kg_m, UnitSystem units);

}  // namespace evenspit
