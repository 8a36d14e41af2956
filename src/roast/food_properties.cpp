// SPDX-License-Identifier: MIT
#include "roast/food_properties.h"

#include <algorithm>
#include <array>
#include <stdexcept>

#include "units/unit_table.h"

namespace evenspit {
namespace {

using unit_factors::celsius_zero_k;

// a + b·t + c·t², t in °C.
struct Fit {
    double a, b, c;
    [[nodiscard]] double at(double t) const { return a + t * (b + t * c); }
    [[nodiscard]] double integral(double t) const { return t * (a + t * (b / 2 + t * c / 3)); }
};

// Choi & Okos (1986): density kg/m3, conductivity W/m·K, heat J/kg·K.
struct Component {
    Fit density, conductivity, heat;
};
constexpr Component water{
    {997.18, 3.1439e-3, -3.7574e-3}, {0.57109, 1.7625e-3, -6.7036e-6}, {4176.2, -9.0864e-2, 5.4731e-3}};
constexpr Component ice{{916.89, -0.13071, 0}, {2.2196, -6.2489e-3, 1.0154e-4}, {2062.3, 6.0769, 0}};
constexpr Component protein{
    {1329.9, -0.51840, 0}, {0.17881, 1.1958e-3, -2.7178e-6}, {2008.2, 1.2089, -1.3129e-3}};
constexpr Component fat{
    {925.59, -0.41757, 0}, {0.18071, -2.7604e-4, -1.7749e-7}, {1984.2, 1.4733, -4.8008e-3}};
constexpr Component carbohydrate{
    {1599.1, -0.31046, 0}, {0.20141, 1.3874e-3, -4.3312e-6}, {1548.8, 1.9625, -5.9399e-3}};
constexpr Component fibre{
    {1311.5, -0.36589, 0}, {0.18331, 1.2497e-3, -3.1683e-6}, {1845.9, 1.8306, -4.6509e-3}};
constexpr Component ash{
    {2423.8, -0.28063, 0}, {0.32962, 1.4011e-3, -2.9069e-6}, {1092.6, 1.8896, -3.6817e-3}};

constexpr double coldest_c = -40, fits_end_c = 150, hottest_c = 250;
constexpr double melting_j_kg = 333.6e3;  // of ice at 0 °C
constexpr double bound_per_protein = 0.4;
constexpr double air_w_mk = 0.027;  // conductivity of air at 50 °C

double heat_j_kg(const Component& component, double t) {
    const double within = std::min(t, fits_end_c);
    return component.heat.integral(within) + (t - within) * component.heat.at(fits_end_c);
}

// A component and its share of the mass.
using Shares = std::array<std::pair<const Component*, double>, 7>;

double sum_of(const body::Composition& c) {
    return c.water + c.protein + c.fat + c.carbohydrate + c.fibre + c.ash;
}

body::Composition in_proportion(const body::Composition& c) {
    const double sum = sum_of(c);
    if (!(sum > 0)) throw std::invalid_argument("a composition without anything in it");
    return {c.water / sum, c.protein / sum, c.fat / sum, c.carbohydrate / sum, c.fibre / sum, c.ash / sum};
}

Shares shares_at(const body::Composition& composition, double temperature_k) {
    const body::Composition c = in_proportion(composition);
    const double frozen = ice_share(composition, temperature_k);
    return {{{&water, c.water - frozen},
             {&ice, frozen},
             {&protein, c.protein},
             {&fat, c.fat},
             {&carbohydrate, c.carbohydrate},
             {&fibre, c.fibre},
             {&ash, c.ash}}};
}

}  // namespace

double freezing_point_k(const body::Composition& c) {
    if (!(c.water > 0)) throw std::invalid_argument("a food without water does not freeze");
    return celsius_zero_k - (4.66 * (c.protein + c.carbohydrate) + 46.4 * c.ash) / c.water;
}

double ice_share(const body::Composition& composition, double temperature_k) {
    const body::Composition c = in_proportion(composition);
    const double free = c.water - bound_per_protein * c.protein;
    if (!(free > 0)) return 0;
    const double t = temperature_k - celsius_zero_k;
    const double freezing = freezing_point_k(c) - celsius_zero_k;
    return t < freezing ? free * (1 - freezing / t) : 0.0;
}

double enthalpy_j_kg(const body::Composition& composition, double temperature_k) {
    const auto from_zero = [&](double t) {
        double sum = 0;
        for (const auto& [component, share] : shares_at(composition, t + celsius_zero_k)) {
            sum += share * heat_j_kg(*component, t);
            if (component == &ice) sum -= share * melting_j_kg;
        }
        return sum;
    };
    return from_zero(temperature_k - celsius_zero_k) - from_zero(coldest_c);
}

double conductivity_w_mk(const body::Composition& composition, double temperature_k) {
    const double t = std::clamp(temperature_k - celsius_zero_k, coldest_c, fits_end_c);
    double volume = 0;
    double sum = 0;
    for (const auto& [component, share] : shares_at(composition, temperature_k)) {
        const double own = share / component->density.at(t);
        volume += own;
        sum += own * component->conductivity.at(t);
    }
    return sum / volume;
}

double with_pores_w_mk(double solid_w_mk, double air) {
    const double step = solid_w_mk - air_w_mk;
    const double both = 2 * solid_w_mk + air_w_mk;
    return solid_w_mk * (both - 2 * air * step) / (both + air * step);
}

ThermalTable thermal_table(const FoodMatter& matter) {
    std::vector<ThermalPoint> points;
    const auto add = [&](double t) {
        const double kelvin = t + celsius_zero_k;
        points.push_back({kelvin, matter.density_kg_m3 * enthalpy_j_kg(matter.composition, kelvin),
                          with_pores_w_mk(conductivity_w_mk(matter.composition, kelvin), matter.air)});
    };
    // Fine where ice melts; the freezing point itself is a corner.
    const double corner =
        matter.composition.water > 0 ? freezing_point_k(matter.composition) - celsius_zero_k : 0;
    for (int n = 0; coldest_c + n < corner - 8; ++n) add(coldest_c + n);
    for (int n = 0; n < 160; ++n) add(corner - 8 + 0.05 * n);
    add(corner);
    for (double t = corner + 1; t < boiling_from_k - celsius_zero_k; t += 1) add(t);
    if (!(matter.composition.water > 0)) {
        for (double t = boiling_from_k - celsius_zero_k; t < hottest_c; t += 1) add(t);
        return ThermalTable(points);
    }
    add(boiling_from_k - celsius_zero_k);
    // 2257 kJ/kg at 100 °C: steam tables.
    constexpr double boiling_j_kg = 2.257e6, least_pores = 0, most_pores = 0.9;
    body::Composition dry = matter.composition;
    dry.water = 1e-6;  // freezing points are by what is in the water
    const double dry_share = 1 - matter.composition.water;
    const double water_kg_m3 = matter.density_kg_m3 * matter.composition.water;
    const double boiled_j_m3 = points.back().enthalpy_j_m3 + boiling_j_kg * matter.boils * water_kg_m3;
    const double pores =
        std::clamp(matter.air + water_kg_m3 / water.density.at(100), least_pores, most_pores);
    const double from_j_kg = enthalpy_j_kg(dry, boiling_to_k);
    for (double t = boiling_to_k - celsius_zero_k; t < hottest_c; t += 5) {
        const double kelvin = t + celsius_zero_k;
        const double dry_j_kg = enthalpy_j_kg(dry, kelvin) - from_j_kg;
        points.push_back({kelvin, boiled_j_m3 + matter.density_kg_m3 * dry_share * dry_j_kg,
                          with_pores_w_mk(conductivity_w_mk(dry, kelvin), pores)});
    }
    return ThermalTable(points);
}

}  // namespace evenspit
