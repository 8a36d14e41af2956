// SPDX-License-Identifier: MIT
#include "roast/surface_heat.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include "units/physical_constants.h"
#include "units/unit_table.h"

namespace evenspit {
namespace {

using unit_factors::celsius_zero_k;

constexpr double air_heat_j_kgk = 1007;
constexpr double air_gas_j_kgk = 287.05;
constexpr double water_gas_j_kgk = 461.5;
constexpr double lewis = 0.87;
constexpr double hollow_convection_w_m2k = 3;
constexpr double hollow_emissivity = 0.9;

double wagner_pruss_pa(double temperature_k) {
    constexpr double critical_k = 647.096, critical_pa = 22.064e6;
    const double tau = 1 - temperature_k / critical_k;
    const double root = std::sqrt(tau);
    const double third = tau * tau * tau;
    const double sum = -7.85951783 * tau + 1.84408259 * tau * root - 11.7866497 * third +
                       22.6807411 * third * root - 15.9618719 * third * tau +
                       1.80122502 * third * third * tau * root;
    return critical_pa * std::exp(critical_k / temperature_k * sum);
}

constexpr double first_k = 250, last_k = 600, step_k = 0.25;

// The pressure and its slope, from a table of which each value is within 0.01 % of the formula.
struct Pressure {
    double pa, slope_pa_k;
};
Pressure pressure_at(double temperature_k) {
    static const std::vector<double> table = [] {
        std::vector<double> pa;
        for (double t = first_k; t <= last_k + step_k / 2; t += step_k) pa.push_back(wagner_pruss_pa(t));
        return pa;
    }();
    const double along = std::clamp((temperature_k - first_k) / step_k, 0.0, double(table.size() - 2));
    const auto n = static_cast<std::size_t>(along);
    const double rise = table[n + 1] - table[n];
    return {table[n] + std::min(along - double(n), 1.0) * rise, rise / step_k};
}

// Stefan's logarithm ln((p − v)/(p − s)), gone on in a line where the surface comes near to boiling.
struct Drive {
    double drive, slope_1_k;
};
Drive vapour_drive(double surface_k, double vapour_pa) {
    constexpr double fullest = 0.98 * standard_atmosphere_pa;
    const Pressure s = pressure_at(surface_k);
    const double held = std::min(s.pa, fullest);
    const double per_pa = 1 / (standard_atmosphere_pa - held);
    const double air = standard_atmosphere_pa - std::min(vapour_pa, fullest);
    return {std::log(air * per_pa) + (s.pa - held) * per_pa, s.slope_pa_k * per_pa};
}

// kg/m2·s of vapour for each unit of Stefan's logarithm.
double vapour_transfer(double convection_w_m2k, double film_k) {
    static const double analogy = std::pow(lewis, 2.0 / 3);
    const double air_kg_m3 = standard_atmosphere_pa / (air_gas_j_kgk * film_k);
    const double speed = convection_w_m2k / (air_kg_m3 * air_heat_j_kgk * analogy);
    return speed * standard_atmosphere_pa / (water_gas_j_kgk * film_k);
}

}  // namespace

double saturation_pa(double temperature_k) {
    return wagner_pruss_pa(std::clamp(temperature_k, first_k, last_k));
}

double evaporation_j_kg(double temperature_k) {
    return 2.501e6 - 2361 * (temperature_k - celsius_zero_k);
}

// Each as it counts in the flux: temperature of the air by coefficient, its vapour by what can evaporate,
// radiation by what is taken up.
void MeanExposure::add(const SurfaceExposure& e, double area_m2) {
    const double convected = area_m2 * e.convection_w_m2k;
    const double wetted = convected * e.wetness;
    area_ += area_m2;
    convected_ += convected;
    wetted_ += wetted;
    air_ += area_m2 * e.air_k;
    sum_.air_k += convected * e.air_k;
    sum_.irradiation_w_m2 += area_m2 * e.emissivity * e.irradiation_w_m2;
    sum_.emissivity += area_m2 * e.emissivity;
    sum_.vapour_pa += wetted * e.vapour_pa;
    sum_.most_water_kg_m2s += e.wetness > 0 ? area_m2 * e.most_water_kg_m2s : 0.0;
}

SurfaceExposure MeanExposure::mean() const {
    const auto part = [](double sum, double by) { return by > 0 ? sum / by : 0.0; };
    return {.air_k = convected_ > 0 ? sum_.air_k / convected_ : part(air_, area_),
            .convection_w_m2k = part(convected_, area_),
            .irradiation_w_m2 = part(sum_.irradiation_w_m2, sum_.emissivity),
            .emissivity = part(sum_.emissivity, area_),
            .vapour_pa = part(sum_.vapour_pa, wetted_),
            .wetness = part(wetted_, convected_),
            .most_water_kg_m2s = part(sum_.most_water_kg_m2s, area_)};
}

SurfaceFlux surface_flux(const SurfaceExposure& e, double surface_k) {
    SurfaceFlux flux;
    const double cubed = surface_k * surface_k * surface_k;
    flux.heat_w_m2 = e.convection_w_m2k * (e.air_k - surface_k) +
                     e.emissivity * (e.irradiation_w_m2 - stefan_boltzmann_w_m2_k4 * cubed * surface_k);
    flux.heat_slope_w_m2k = -e.convection_w_m2k - 4 * e.emissivity * stefan_boltzmann_w_m2_k4 * cubed;
    if (e.wetness > 0) {
        const Drive vapour = vapour_drive(surface_k, e.vapour_pa);
        const double transfer = e.wetness * vapour_transfer(e.convection_w_m2k, 0.5 * (e.air_k + surface_k));
        flux.water_kg_m2s = transfer * vapour.drive;
        flux.water_slope_kg_m2sk = transfer * vapour.slope_1_k;
        if (flux.water_kg_m2s > e.most_water_kg_m2s) {
            flux.water_kg_m2s = e.most_water_kg_m2s;
            flux.water_slope_kg_m2sk = 0;
        }
        const double latent = evaporation_j_kg(surface_k);
        flux.heat_w_m2 -= latent * flux.water_kg_m2s;
        flux.heat_slope_w_m2k -= latent * flux.water_slope_kg_m2sk;
    }
    return flux;
}

// What the surface takes up less what it hands on falls steadily as it gets hotter: Newton's method within a
// bracket that closes from both sides. As its error falls with the square, a last move as small as that is
// right.
SurfaceState balanced_surface(const SurfaceExposure& exposure, double inner_k, double inward_w_m2k,
                              double guess_k) {
    constexpr double close_k = 0.3;
    constexpr int most_tries = 60;
    double low = 150, high = 3000;
    SurfaceState state{std::clamp(guess_k, low, high), {}};
    for (int n = 0; n < most_tries; ++n) {
        SurfaceFlux& flux = state.flux = surface_flux(exposure, state.surface_k);
        const double excess = flux.heat_w_m2 + inward_w_m2k * (inner_k - state.surface_k);
        (excess > 0 ? low : high) = state.surface_k;
        const double move = excess / (inward_w_m2k - flux.heat_slope_w_m2k);
        const double next = state.surface_k + move;
        if (std::abs(move) < close_k) {
            flux.heat_w_m2 += move * flux.heat_slope_w_m2k;
            flux.water_kg_m2s += move * flux.water_slope_kg_m2sk;
            state.surface_k = next;
            return state;
        }
        state.surface_k = next > low && next < high ? next : 0.5 * (low + high);
    }
    return state;
}

double hollow_exchange_w_m2k(double temperature_k, bool closed) {
    const double walls = hollow_emissivity / (2 - hollow_emissivity);
    const double dry = hollow_convection_w_m2k +
                       walls * 4 * stefan_boltzmann_w_m2_k4 * temperature_k * temperature_k * temperature_k;
    if (!closed) return dry;
    const double steam = vapour_transfer(hollow_convection_w_m2k, temperature_k) *
                         evaporation_j_kg(temperature_k) * vapour_drive(temperature_k, 0).slope_1_k;
    return dry + steam;
}

}  // namespace evenspit
