// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "analysis/results.h"
#include "load/assembly.h"

namespace evenspit {

/// What is to be said of the items themselves: free limbs (which, how far they swing, what they strike),
/// giblets left inside, stuffing and the temperature it must reach, and a density that no meat has.
///
/// \param clearance tells what free limbs strike
std::vector<Finding> body_findings(const Assembly& assembly, const Clearance& clearance);

}  // namespace evenspit
