// SPDX-License-Identifier: MIT
#include "roast/convection_air.h"

#include <algorithm>
#include <array>
#include <cstddef>

#include "units/physical_constants.h"

namespace evenspit {
namespace {

struct Row {
    double temperature_k, specific_heat_kj, viscosity_e7, conductivity_e3;
};

constexpr std::array<Row, 20> table = {
    {{250, 1.006, 159.6, 22.3},  {300, 1.007, 184.6, 26.3},  {350, 1.009, 208.2, 30.0},
     {400, 1.014, 230.1, 33.8},  {450, 1.021, 250.7, 37.3},  {500, 1.030, 270.1, 40.7},
     {550, 1.040, 288.4, 43.9},  {600, 1.051, 305.8, 46.9},  {650, 1.063, 322.5, 49.7},
     {700, 1.075, 338.8, 52.4},  {750, 1.087, 354.6, 54.9},  {800, 1.099, 369.8, 57.3},
     {850, 1.110, 384.3, 59.6},  {900, 1.121, 398.1, 62.0},  {950, 1.131, 411.3, 64.3},
     {1000, 1.141, 424.4, 66.7}, {1100, 1.159, 449.0, 71.5}, {1200, 1.175, 473.0, 76.3},
     {1300, 1.189, 496.0, 82.0}, {1500, 1.230, 557.0, 100.0}}};

constexpr double gas_constant_j_kg_k = 287.05;  // of dry air

// Between which rows a temperature lies, and how far.
struct Place {
    const Row &low, &high;
    double share;
};

Place place(double temperature_k) {
    const double t = std::clamp(temperature_k, table.front().temperature_k, table.back().temperature_k);
    const auto above = std::lower_bound(table.begin() + 1, table.end() - 1, t,
                                        [](const Row& row, double k) { return row.temperature_k < k; });
    const Row &low = *(above - 1), &high = *above;
    return {low, high, (t - low.temperature_k) / (high.temperature_k - low.temperature_k)};
}

}  // namespace

double air_specific_heat_j_kg_k(double temperature_k) {
    const auto [low, high, share] = place(temperature_k);
    return 1e3 * (low.specific_heat_kj + share * (high.specific_heat_kj - low.specific_heat_kj));
}

AirProperties air_at(double temperature_k) {
    const auto [low, high, share] = place(temperature_k);
    const auto between = [share = share](double a, double b) { return a + share * (b - a); };
    return {.density_kg_m3 = standard_atmosphere_pa / (gas_constant_j_kg_k * temperature_k),
            .specific_heat_j_kg_k = 1e3 * between(low.specific_heat_kj, high.specific_heat_kj),
            .viscosity_pa_s = 1e-7 * between(low.viscosity_e7, high.viscosity_e7),
            .conductivity_w_m_k = 1e-3 * between(low.conductivity_e3, high.conductivity_e3)};
}

}  // namespace evenspit
