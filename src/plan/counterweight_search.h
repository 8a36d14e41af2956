// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <vector>

#include "plan/free_radius.h"
#include "plan/unbalance.h"

namespace evenspit::plan {

/// What counterweights are sought for.
struct CounterweightGoal {
    Unbalances unbalance;            ///< of everything else
    double centre_m = 0;             ///< station of the load's centre of mass
    double enough_kg_m = 0;          ///< an unbalance this small at the worse end of the cook will do
    std::vector<StockWeight> stock;  ///< what lies ready, each once; empty: an ideal weight is made up
    std::array<double, 2> usable_m{};
    const FreeRadius* free = nullptr;  ///< not owned; null: nothing to clear
    /// Whether a weight would sit in or on something at that place.
    std::function<bool(const Counterweight&)> blocked;
};

struct CounterweightsFound {
    std::vector<Counterweight> weights;  ///< none where none is needed, or none helps
    double unbalance_kg_m = 0;           ///< left, at the worse end
};

/// The counterweights that leave little enough: none if that will do, else the lightest one that does, else
/// the lightest pair, else what leaves least.
///
/// Clocks by the degree, arms by the millimetre, stations by 5 mm. What is to be cancelled is the middle of
/// the unbalances at the two ends of the cook (the centre of the smallest circle round both). Of two weights
/// each takes the share that the two-plane correction asks for, if both have the arm for it; else they stand
/// apart in clock so that together they give just what is wanted. A weight sweeps its place: it keeps every
/// surface's distance.
CounterweightsFound find_counterweights(const CounterweightGoal& goal);

}  // namespace evenspit::plan
