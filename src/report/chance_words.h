// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "analysis/results.h"
#include "load/assembly.h"

namespace evenspit {

/// "Ready in 71 of 100 mountings, stop in 2."; without the stops where there are none.
std::string chance_sentence(const Chance& chance);

/// The same beside a verdict. Mountings do not count what hands see as they mount, nor what the load as
/// written says of itself: where these alone ask for something, it says so.
std::string chance_sentence(Level verdict, const Chance& chance);

/// The same in a plan, which tells at its end what is left to fix.
std::string planned_chance_sentence(bool left_to_fix, const Chance& chance);

/// What a verdict means, with how often a load fares so where it was mounted many times.
std::string verdict_words(Level verdict, const std::optional<Mounted>& mounted);

/// What is set or measured, in the middle of a sentence: "where the rod leaves turkey at the neck".
std::string input_text(const Input& input, const Assembly& assembly);
/// The key of a load file that says it, or would: "item.1.line.to".
std::string input_key(const Input& input, const Assembly& assembly);

/// What to take most care over: "where the rod leaves turkey at the neck (70 %) and … (20 %)"; "" without
/// drivers.
std::string drivers_text(const std::vector<Driver>& drivers, const Assembly& assembly);

/// The path of a figure in the JSON result: "clearance.surfaces[0].gap_m".
std::string figure_key(const FigureId& figure);

}  // namespace evenspit
