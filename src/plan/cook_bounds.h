// SPDX-License-Identifier: MIT
#pragma once

#include <array>

#include "load/assembly.h"

namespace evenspit {

/// The two ends of a cook.
enum class Doneness : std::size_t { raw, cooked };
inline constexpr std::size_t cook_ends = 2;

/// An item's mass and its centre, item frame, at one end of the cook.
struct ItemMass {
    double mass_kg = 0;
    Vec3 centre = Vec3::Zero();  ///< m
};

/// What of a body's part is left of its mass when it is cooked.
///
/// For poultry by part, from raw and roasted weights of whole turkeys: USDA National Nutrient Database for
/// Standard Reference, release 26, foods 05219/20 (breast), 05215/16 (back), 05738–41 (thigh and drumstick,
/// taken together, as the joint was cut at another place in the two), 05227/28 (wing). Neck and tail as the
/// back. Other names, and bodies whose parts are not known: 0.76, the middle of bone-in roasts of the USDA
/// Table of Cooking Yields for Meat and Poultry, release 2 (2014).
double cooking_yield(std::string_view part);

/// An item raw and cooked, by Doneness.
///
/// Parts lose mass where they are; shrinking toward the bone is left out. Stuffing keeps its weight.
///
/// As every part loses mass in a line, the unbalance runs in a straight line from one end to the other, and
/// its size, a convex function, is greatest at an end: no moment in between can be worse.
std::array<ItemMass, cook_ends> cook_bounds(const PreparedBody& body);

}  // namespace evenspit
