// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "rig/fire_kinds.h"
#include "units/physical_constants.h"

namespace evenspit {

/// What a black surface of that temperature radiates, W/m².
constexpr double black_power_w_m2(double temperature_k) {
    return stefan_boltzmann_w_m2_k4 * temperature_k * temperature_k * temperature_k * temperature_k;
}

/// How a fuel burns. The sources stand beside the values, in fire.cpp.
struct FuelProperties {
    double heating_value_j_kg = 0;  ///< net: its water leaves as vapour
    double burnt_share = 0;         ///< of it that is set free; the rest leaves as carbon monoxide
    double air_kg_kg = 0;           ///< least air for complete burning
    double air_ratio = 0;           ///< air that passes the bed, over that
    double flame_share = 0;         ///< of the heat that is set free above the bed, in flames
    double flame_radiates = 0;      ///< of that, what leaves as radiation
    double emissivity = 0;          ///< of the bed
    double bulk_kg_m3 = 0;          ///< as it lies; 0 for gas
    double open_flux_kg_m2_s = 0;   ///< burnt per area of the bed, all vents open
    double least_flux_kg_m2_s = 0;  ///< per glowing area; with less air part of the bed goes dark instead
    double lighting_s = 0;          ///< from the match until all of it burns
};

FuelProperties fuel_properties(FuelKind kind);

/// A fire at one moment. Gas never runs out and has no mass.
struct Fire {
    FuelKind fuel = FuelKind::lump_charcoal;
    double laid_kg = 0;  ///< as lit
    double left_kg = 0;  ///< still to burn
    double bed_m2 = 0;   ///< that the fuel covers as laid
    double since_lit_s = 0;
};

/// A fire just lit.
Fire lit_fire(FuelKind fuel, double mass_kg, double bed_m2);

/// Depth of a pile of fuel, m. Common practice, no source.
inline constexpr double pile_depth_m = 0.1;

/// The area that a pile of that fuel covers, m2: `depth_m` deep on average; 0 for gas.
double pile_area_m2(FuelKind fuel, double mass_kg, double depth_m);

/// A fire all of which burns: it has burnt with all the air it wants as long as lighting takes.
Fire lit_through(Fire fire);

/// The area that it covers now, m2: a pile that keeps its shape has (left/laid)^⅔ of its own.
double covered_m2(const Fire& fire);

/// What it burns with all vents open, kg/s: it takes over while it is lit, then burns from its surface. Left
/// alone it fades with the square of the time that is left, and is gone after three times as long as its
/// first rate would take.
double most_burnt_kg_s(const Fire& fire);

/// The fire some time later.
///
/// \param burnt_kg_s ≥ 0; never burns more than is left
Fire burnt_down(Fire fire, double burnt_kg_s, double seconds);

/// What a bed gives off.
struct BedHeat {
    double released_w = 0;     ///< in all
    double temperature_k = 0;  ///< of what glows; the surroundings' where nothing burns
    double glowing_m2 = 0;
    double radiated_w = 0;  ///< net, against the surroundings; flames included
    double flames_w = 0;    ///< what of it flames radiate
    double gas_w = 0;       ///< carried off by gas, over what its air brought in
    double gas_kg_s = 0;    ///< burnt air that leaves the bed
};

/// The balance of a bed at rest: heat set free in it = heat that its gas takes along at the bed's temperature
/// + heat it radiates. The bed itself stores little.
///
/// \param bed_m2 that fuel covers now, > 0 \param around_k mean temperature of what the bed sees
/// \param air_k of the air that it draws
/// \param glows_k what it is known to glow at: as much of the bed glows as the heat is enough for. Absent:
/// as much as its least flux is enough for
BedHeat bed_heat(FuelKind fuel, double burnt_kg_s, double bed_m2, double around_k, double air_k,
                 std::optional<double> glows_k = {});

/// The radiation that leaves a fire's surface, W/m2, in the mean over an area: what glows and flames, and for
/// the rest what comes back from around.
double fire_radiosity_w_m2(FuelKind fuel, const BedHeat& bed, double area_m2, double around_k);

}  // namespace evenspit
