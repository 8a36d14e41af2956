// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>
#include <vector>

namespace evenspit::body {

/// What a food is made of, as mass fractions that sum to 1 (within 0.02: tables are rounded and leave out
/// traces).
struct Composition {
    double water = 0;
    double protein = 0;
    double fat = 0;
    double carbohydrate = 0;
    double fibre = 0;
    double ash = 0;
};

/// Density of a food without air, kg/m3, from its composition: 1/ρ = Σ xᵢ/ρᵢ, fractions taken in proportion
/// to their sum.
///
/// Component densities: Y. Choi, M. R. Okos, "Effects of temperature and composition on the thermal
/// properties of foods" (1986), valid from −40 to 150 °C; water is taken as liquid.
///
/// \throws std::invalid_argument for a negative fraction, a sum further than 0.02 from 1, or a temperature
/// outside the range.
double composition_density(const Composition& composition, double temperature_celsius);

/// What is left of a food when `share` of its mass, of the composition `part`, is taken out.
///
/// \pre share in [0, 1)
Composition without(const Composition& whole, const Composition& part, double share);

/// A raw food of the USDA National Nutrient Database for Standard Reference, release 26.
struct RawFood {
    std::string_view name;
    std::string_view ndb;     ///< the database's number, "05165"
    Composition composition;  ///< of the edible part
    double refuse = 0;        ///< bone and other waste, fraction of the mass as bought
};

/// The foods that bodies are made of; see raw_food().
const std::vector<RawFood>& raw_foods();

/// One of raw_foods() by its database number.
///
/// \throws std::out_of_range if there is none
const RawFood& raw_food(std::string_view ndb);

}  // namespace evenspit::body
