// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "load/assembly.h"

namespace evenspit {

/// Whether an item is a pig, whose legs are tied over its belly or to the rod.
bool is_pig(const Item& item);

/// What a pig's legs are tied with, and what to mind: "wet butcher's string or wire, clear of the fire".
inline constexpr std::string_view leg_ties = "wet butcher's string or wire, clear of the fire";

/// What is done about a pig's legs before it goes on the rod, a sentence.
std::string tying_step(const Item& pig);

/// How a pig's legs are tied once the rod is through it; "" where nothing is tied to the rod.
std::string tying_on_rod_step(const Item& item, std::string_view name);

}  // namespace evenspit
