// SPDX-License-Identifier: MIT
// The best way to set up a load that a coarse grid knows: brute force, with nothing of how a plan searches.
#pragma once

#include <string>
#include <vector>

#include "load/arrangement.h"
#include "load/assembly.h"
#include "plan/plan.h"

namespace evenspit::test {

/// How often a load was ready, and a stop, in fresh draws.
struct FreshChance {
    double ready = 0, stop = 0;
};

/// Plain random draws of a load, each judged by analyse(): what is seen by hand counts as written only.
///
/// \param seed of the draws: other seeds, other draws
FreshChance fresh_chance(const Assembly& load, int draws, unsigned seed);

/// An arrangement of a grid.
struct GridBest {
    Arrangement arrangement;
    int tried = 0;                ///< arrangements of the grid
    Level written = Level::stop;  ///< its verdict as written, what hands see included
    FreshChance chance{};         ///< in 64 draws that chose it
};

/// Of a load with one item. Lines: 10 mm apart at both places where hands measure, round the line through the
/// centre of mass, as far as the rod finds room; the twelve with the least torque, and the line it has.
/// Stations: where it is and 20 mm to either side. Hubs: where they are, and as in the other arrangements
/// told. Clocks of the forks: by 45°, each on its own, or in the steps of their bores.
///
/// \param hubs_as arrangements to take the hubs' places from
GridBest best_on_grid(const Assembly& load, const std::vector<Arrangement>& hubs_as);

/// Twenty loads to plan: turkeys, chickens, geese, ducks and joints, on rods, motors and cookers of the model
/// library, with rods off their line. As load files.
std::vector<std::string> loads_to_plan();

}  // namespace evenspit::test
