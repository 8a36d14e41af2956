// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "analysis/results.h"
#include "load/assembly.h"

namespace evenspit {

/// How meat and metal hold beside the torque: weight on the metal, clamps, tines, and supports that pull
/// down.
std::vector<Finding> hold_findings(const Assembly& assembly, const Analysis& analysis);

}  // namespace evenspit
