// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <numbers>
#include <string>
#include <string_view>
#include <vector>

#include "units/quantity.h"

namespace evenspit {

// Factors of the inch, pound, standard gravity and the Fahrenheit scale are exact by definition: NIST Special
// Publication 811 (2008), appendix B (from memory).
namespace unit_factors {

inline constexpr double inch = 0.0254;
inline constexpr double foot = 12 * inch;
inline constexpr double pound = 0.45359237;
inline constexpr double ounce = pound / 16;
inline constexpr double gravity = 9.80665;
inline constexpr double degree = std::numbers::pi / 180;
inline constexpr double psi = pound * gravity / (inch * inch);
inline constexpr double celsius_zero_k = 273.15;
inline constexpr double fahrenheit_zero_shift = 459.67;

}  // namespace unit_factors

/// A unit that people write: SI = (value + shift) · factor.
struct Unit {
    Dimension dimension;
    double factor;
    std::vector<std::string_view> names;  ///< the first is the one that is printed and offered
    double shift = 0;
    bool exact_case = false;  ///< another case would be another unit: mg and Mg, MPa and mPa
};

/// Every unit that is known.
const std::vector<Unit>& units();

/// The unit of that canonical name; of the wanted dimension if the name serves several. Null if there is
/// none.
const Unit* find_unit(std::string_view name, Dimension wanted);

/// How a unit's name is written for a reader, where that differs from its canonical form.
std::string spelled(std::string_view name);

/// The units that a message shows first: one for each system, "" where there is no other.
std::array<std::string, 2> common_units(Dimension dimension);

}  // namespace evenspit
