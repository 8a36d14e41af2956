// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "analysis/finding.h"

namespace evenspit {

/// What a finding of Code::roll_test says: that the load is judged by the test, or that the test contradicts
/// it.
std::string roll_finding_text(const Finding& finding);

/// How seldom a contradiction is: "1 of 4,000 loads".
std::string rarity_text(double probability);

}  // namespace evenspit
