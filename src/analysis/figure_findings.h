// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "analysis/results.h"
#include "load/assembly.h"

namespace evenspit {

/// What motor, turning, rod, grip, clearance and bodies have to say, each with its figure and its limit
/// (analysis/limits.h). One finding of level `ready` stands for each question that is in order, so that its
/// margin can be read too.
std::vector<Finding> figure_findings(const Assembly& assembly, const Analysis& analysis);

/// Remarks of reading and of the bodies, as findings of level `ready`.
std::vector<Finding> remark_findings(const Assembly& assembly);

}  // namespace evenspit
