// SPDX-License-Identifier: MIT
#pragma once

#include "body/composition.h"
#include "roast/thermal_table.h"

namespace evenspit {

/// The temperature at which the first ice forms in a food, K: −4.66·x/w − 46.4·a/w °C with w water, a ash and
/// x all other solids that lower it, taken as protein and carbohydrate. Q. T. Pham, "Prediction of
/// calorimetric properties and freezing time of foods from composition data", J. Food Eng. 30:95–107 (1996),
/// as quoted elsewhere. A food without either freezes at 0 °C. \pre some water
double freezing_point_k(const body::Composition& composition);

/// The share of a food's mass that is ice: (w − b)·(1 − t_f/t), t and t_f in °C, with bound water b of 0.4
/// times the protein, which never freezes. Miles, van Beek and Veerkamp (1983), bound water by Pham (1987).
double ice_share(const body::Composition& composition, double temperature_k);

/// Enthalpy of a food, J/kg, 0 at −40 °C: Σ xᵢ ∫cᵢ dT, and the heat that melts the ice.
///
/// Its slope is the apparent heat capacity of freezing food, as by Schwartzberg (1976). Component heats: Choi
/// and Okos (1986), as composition_density(); water by their paper, 4.1762 kJ/kg·K at 0 °C (a handbook prints
/// 4.1289, which is 1 % less than water has). Fat counts as molten or solid alike. Past 150 °C, where their
/// fits end, heats stay as they are there.
double enthalpy_j_kg(const body::Composition& composition, double temperature_k);

/// Conductivity of a food without air, W/m·K: Σ φᵢ kᵢ with φ shares of volume (the parallel rule), components
/// by Choi and Okos. For raw meat that is within a few per cent of what was measured across its fibres.
double conductivity_w_mk(const body::Composition& composition, double temperature_k);

/// Conductivity of a solid with air in closed pores: Maxwell and Eucken.
///
/// \param air share of the volume, in [0, 1)
double with_pores_w_mk(double solid_w_mk, double air);

/// A food as heat meets it in a body.
struct FoodMatter {
    body::Composition composition;
    double density_kg_m3 = 0;  ///< as it lies in the body, air between counted in; > 0
    double air = 0;            ///< share of the volume that is air in pores
    double boils = 1;          ///< share of its water that is still there when it boils
};

/// Between these the water of a food boils off, K: what is not yet dry does not get hotter.
inline constexpr double boiling_from_k = 373.15, boiling_to_k = 375.15;

/// From −40 to 250 °C; volume stays as it is at the start, so that mass does. Past boiling it is dry, with
/// pores where its water was.
ThermalTable thermal_table(const FoodMatter& matter);

/// Whole wet bone with its marrow, from memory; by Choi and Okos its density is 1210 kg/m3.
inline constexpr body::Composition wet_bone{.water = 0.45, .protein = 0.20, .fat = 0.12, .ash = 0.23};

/// Bread stuffing, prepared, from memory of USDA SR26 18082.
inline constexpr body::Composition bread_stuffing{
    .water = 0.65, .protein = 0.03, .fat = 0.08, .carbohydrate = 0.19, .fibre = 0.03, .ash = 0.02};

}  // namespace evenspit
