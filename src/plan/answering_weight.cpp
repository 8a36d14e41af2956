// SPDX-License-Identifier: MIT
#include "plan/answering_weight.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "load/arrangement.h"

namespace evenspit::plan {
namespace {

// Common practice.
constexpr double arm_m = 0.080;
constexpr double diameter_m = 0.040;
constexpr double least_mass_kg = 0.05;

}  // namespace

Counterweight answering_weight(const Assembly& assembly, const Balance& balance) {
    // Whole ten grams.
    const double mass = std::round(balance.unbalance_kg_m_size / arm_m * 100) / 100;
    double at = assembly.rod.usable_m[0] + diameter_m;
    for (const Fork& fork : assembly.forks) at = std::min(at, fork.at_m - diameter_m);
    return {.at_m = std::max(at, assembly.rod.usable_m[0] + diameter_m / 2),
            .mass_kg = std::max(least_mass_kg, mass),
            .radius_m = arm_m,
            .clock_rad = whole_degrees(balance.heavy_side_rad + std::numbers::pi),
            .diameter_m = diameter_m};
}

}  // namespace evenspit::plan
