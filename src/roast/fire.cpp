// SPDX-License-Identifier: MIT
#include "roast/fire.h"

#include <algorithm>
#include <cmath>

#include "roast/convection_air.h"

namespace evenspit {
namespace {

constexpr double hour_s = 3600;
constexpr double minute_s = 60;

// Carbon monoxide: 9.4 to 12.7 g/h for each kW of a charcoal stove (Ind. Health 49:393, 2011); it takes
// 10.1 MJ/kg along (from memory): 3 % of the heat.
constexpr double charcoal_burnt_share = 0.97;

// Beds burn 5 to 15 kg/(m² h) in open natural draught (from memory, unsure): the middle with vents open. At
// the low end the balance of bed_heat() gives about 600 °C, a dull red: with less, coals go out one by one.
constexpr double open_flux = 10 / hour_s;
constexpr double least_flux = 5 / hour_s;

// An ash-covered bed at 600 to 900 °C: 0.8 to 0.9 (from memory).
constexpr double bed_emissivity = 0.85;

// Half as much again as the least air passes a charcoal bed. From memory, unsure: 1.2 to 2.
constexpr double bed_air_ratio = 1.5;

constexpr double hottest_k = 3000;  // beyond any flame

}  // namespace

FuelProperties fuel_properties(FuelKind kind) {
    switch (kind) {
        case FuelKind::lump_charcoal:
            // 29.5 MJ/kg: IPCC Guidelines 2006, vol. 2, table 1.2 (from memory); over 29 measured (Mencarelli
            // et al. 2025). Air 9.8 kg/kg from 80 % carbon and its hydrogen. At least 130 kg/m3 as it lies
            // (EN 1860-2). Lit in 20 min in a chimney: common practice.
            return {.heating_value_j_kg = 29.5e6,
                    .burnt_share = charcoal_burnt_share,
                    .air_kg_kg = 9.8,
                    .air_ratio = bed_air_ratio,
                    .flame_share = 0.1,
                    .flame_radiates = 0.1,
                    .emissivity = bed_emissivity,
                    .bulk_kg_m3 = 200,
                    .open_flux_kg_m2_s = open_flux,
                    .least_flux_kg_m2_s = least_flux,
                    .lighting_s = 20 * minute_s};
        case FuelKind::briquettes:
            // Fixed carbon 60 % at 32.8 MJ/kg and 20 % volatiles at about 20 (EN 1860-2 and Mencarelli et al.
            // 2025 for the shares): 23.7 MJ/kg; air in proportion to the heat. The rest from memory.
            return {.heating_value_j_kg = 23.7e6,
                    .burnt_share = charcoal_burnt_share,
                    .air_kg_kg = 7.9,
                    .air_ratio = bed_air_ratio,
                    .flame_share = 0.1,
                    .flame_radiates = 0.1,
                    .emissivity = bed_emissivity,
                    .bulk_kg_m3 = 450,
                    .open_flux_kg_m2_s = open_flux,
                    .least_flux_kg_m2_s = least_flux,
                    .lighting_s = 25 * minute_s};
        case FuelKind::wood:
            // 15.6 MJ/kg: IPCC Guidelines 2006, vol. 2, table 1.2 (from memory); 14.4 to 17.4 in tables of
            // fuels. About two thirds of its heat burn as flames, which radiate a fifth of it. An hour until
            // it has burnt to embers: common practice.
            return {.heating_value_j_kg = 15.6e6,
                    .burnt_share = 0.95,
                    .air_kg_kg = 5.5,
                    .air_ratio = bed_air_ratio,
                    .flame_share = 0.65,
                    .flame_radiates = 0.2,
                    .emissivity = bed_emissivity,
                    .bulk_kg_m3 = 300,
                    .open_flux_kg_m2_s = 2 * open_flux,
                    .least_flux_kg_m2_s = 2 * least_flux,
                    .lighting_s = 60 * minute_s};
        case FuelKind::gas:
            // Propane: 50.35 MJ/kg gross in tables of fuels, 46.4 net; 15.6 kg of air. What heats plates or
            // stones over the burner, and flames' radiation, from memory.
            return {.heating_value_j_kg = 46.4e6,
                    .burnt_share = 1,
                    .air_kg_kg = 15.6,
                    .air_ratio = 1.3,
                    .flame_share = 0.65,
                    .flame_radiates = 0.1,
                    .emissivity = bed_emissivity,
                    .bulk_kg_m3 = 0,
                    .open_flux_kg_m2_s = 5 / hour_s,
                    .least_flux_kg_m2_s = 0.5 / hour_s,
                    .lighting_s = 0};
    }
    return {};
}

Fire lit_fire(FuelKind fuel, double mass_kg, double bed_m2) {
    return {.fuel = fuel, .laid_kg = mass_kg, .left_kg = mass_kg, .bed_m2 = bed_m2, .since_lit_s = 0};
}

double pile_area_m2(FuelKind fuel, double mass_kg, double depth_m) {
    const double bulk = fuel_properties(fuel).bulk_kg_m3;
    return bulk > 0 ? mass_kg / (bulk * depth_m) : 0;
}

double covered_m2(const Fire& fire) {
    if (fire.fuel == FuelKind::gas) return fire.bed_m2;
    return fire.left_kg > 0 ? fire.bed_m2 * std::pow(fire.left_kg / fire.laid_kg, 2. / 3) : 0;
}

double most_burnt_kg_s(const Fire& fire) {
    const FuelProperties fuel = fuel_properties(fire.fuel);
    const double lit = fuel.lighting_s > 0 ? std::clamp(fire.since_lit_s / fuel.lighting_s, 0.0, 1.0) : 1;
    return fuel.open_flux_kg_m2_s * lit * covered_m2(fire);
}

Fire burnt_down(Fire fire, double burnt_kg_s, double seconds) {
    fire.since_lit_s += seconds;
    if (fire.fuel != FuelKind::gas) fire.left_kg = std::max(0.0, fire.left_kg - burnt_kg_s * seconds);
    return fire;
}

Fire lit_through(Fire fire) {
    const double lighting_s = fuel_properties(fire.fuel).lighting_s;
    while (fire.since_lit_s < lighting_s) fire = burnt_down(fire, most_burnt_kg_s(fire), minute_s);
    return fire;
}

BedHeat bed_heat(FuelKind kind, double burnt_kg_s, double bed_m2, double around_k, double air_k,
                 std::optional<double> glows_k) {
    const FuelProperties fuel = fuel_properties(kind);
    BedHeat bed;
    bed.temperature_k = around_k;
    if (!(burnt_kg_s > 0)) return bed;
    bed.released_w = burnt_kg_s * fuel.heating_value_j_kg * fuel.burnt_share;
    bed.gas_kg_s = burnt_kg_s * (1 + fuel.air_kg_kg * fuel.air_ratio);
    bed.flames_w = bed.released_w * fuel.flame_share * fuel.flame_radiates;
    const double in_bed = bed.released_w * (1 - fuel.flame_share);
    // What the gas leaves of it, to be radiated.
    const auto to_radiate = [&](double t) {
        return in_bed - bed.gas_kg_s * air_specific_heat_j_kg_k((t + air_k) / 2) * (t - air_k);
    };
    const auto radiated = [&](double t) {
        return fuel.emissivity * (black_power_w_m2(t) - black_power_w_m2(around_k));
    };
    bed.glowing_m2 = burnt_kg_s / fuel.least_flux_kg_m2_s;
    if (glows_k && *glows_k > around_k && to_radiate(*glows_k) > 0)
        bed.glowing_m2 = to_radiate(*glows_k) / radiated(*glows_k);
    bed.glowing_m2 = std::min(bed_m2, bed.glowing_m2);
    // It falls with the temperature; a fire too weak for its surroundings' temperature stays at that of the
    // air or theirs, whichever is lower.
    double low = std::min(air_k, around_k), high = hottest_k;
    const auto left = [&](double t) { return to_radiate(t) - bed.glowing_m2 * radiated(t); };
    // Newton's steps where they stay between the sides, else halves. The slope leaves out that the specific
    // heat of air rises, which is little: a few steps more.
    double t = (low + high) / 2;
    for (int k = 0; k < 60 && high - low > 1e-9; ++k) {
        const double here = left(t);
        (here > 0 ? low : high) = t;
        const double slope = bed.gas_kg_s * air_specific_heat_j_kg_k((t + air_k) / 2) +
                             4 * bed.glowing_m2 * fuel.emissivity * black_power_w_m2(t) / t;
        const double next = t + here / slope;
        if (std::abs(next - t) < 1e-9) break;
        t = next > low && next < high ? next : (low + high) / 2;
    }
    bed.temperature_k = t;
    bed.radiated_w = bed.glowing_m2 * radiated(bed.temperature_k) + bed.flames_w;
    bed.gas_w = bed.released_w - bed.radiated_w;
    return bed;
}

double fire_radiosity_w_m2(FuelKind kind, const BedHeat& bed, double area_m2, double around_k) {
    const double back = black_power_w_m2(around_k);
    if (!(area_m2 > 0)) return back;
    const double bright = fuel_properties(kind).emissivity * std::min(1.0, bed.glowing_m2 / area_m2);
    return bright * black_power_w_m2(bed.temperature_k) + (1 - bright) * back + bed.flames_w / area_m2;
}

}  // namespace evenspit
