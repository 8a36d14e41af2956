// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "load/assembly.h"

namespace evenspit {

/// The two ends of a cook.
enum class Doneness : std::size_t { raw, cooked };
inline constexpr std::size_t cook_ends = 2;

/// Across-fibre strength of cooked meat, Pa: the bound a fork can count on at the end of the cook. About 25
/// kPa across and 300 kPa along the fibres of cooked beef: P. P. Purslow, "The physical basis of meat
/// texture", Meat Science 12 (1985).
inline constexpr double cooked_bearing_strength_pa = 25e3;

/// Bearing strength of raw muscle, Pa. No published figure for raw poultry under a pin was found; this one is
/// from memory, and no verdict hangs on it, as the cooked bound is lower.
inline constexpr double raw_bearing_strength_pa = 60e3;

/// What of a body's part is left of its mass when it is cooked.
///
/// For poultry by part, from raw and roasted weights of whole turkeys: USDA National Nutrient Database for
/// Standard Reference, release 26, foods 05219/20 (breast), 05215/16 (back), 05738–41 (thigh and drumstick,
/// taken together, as the joint was cut at another place in the two), 05227/28 (wing). Neck and tail as the
/// back. Other names, and bodies whose parts are not known: 0.76, the middle of bone-in roasts of the USDA
/// Table of Cooking Yields for Meat and Poultry, release 2 (2014).
double cooking_yield(std::string_view part);

/// A body raw and cooked, by Doneness.
///
/// Parts lose mass where they are; shrinking toward the bone is left out. Stuffing keeps its weight.
///
/// As every part loses mass in a line, the unbalance runs in a straight line from one end to the other, and
/// its size, a convex function, is greatest at an end: no moment in between can be worse.
///
/// \param fixed_strength_pa what its flesh bears all the while, if that is known
std::array<Matter, cook_ends> matter_ends(const PreparedBody& body,
                                          std::optional<double> fixed_strength_pa = {});

/// An item at an end of the cook; as its own Matter says, if it has one.
Matter matter_at(const Item& item, Doneness end);

/// An item as it goes on the rod, or as its own Matter says.
inline Matter matter_of(const Item& item) {
    return matter_at(item, Doneness::raw);
}

/// What an item's flesh bears where it bears least, raw or cooked, Pa.
double least_bearing_strength_pa(const Item& item);

}  // namespace evenspit
