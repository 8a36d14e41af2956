// SPDX-License-Identifier: MIT
// What several results tell in the same way.
#pragma once

#include "analysis/results.h"
#include "load/assembly.h"
#include "report/json_writer.h"

namespace evenspit {

/// Which program it was.
Json tool_json();
/// Which load.
Json load_json(const Assembly& assembly);
Json chance_json(const Chance& chance);
/// Where a counterweight sits, SI.
Json counterweight_json(const Counterweight& weight);

/// Degrees, 0 ≤ a < 360. What was written in whole degrees is told so; a double of radians is not that exact.
double written_degrees(double angle_rad);

/// A finding, its message in metric units.
Json finding_json(const Finding& finding, const Assembly& assembly);

/// How a load fares in many mountings: "chance", "spread", "drivers", "bands".
void put_mounted(Json& json, const Mounted& mounted, const Assembly& assembly);

/// Which fork or bracket is meant: "fork": 2, "bracket": 1.
void put_fork(Json& object, const std::vector<Fork>& forks, std::size_t index);

/// What json_report() tells.
Json report_json(const Assembly& assembly, const Analysis& analysis);

}  // namespace evenspit
