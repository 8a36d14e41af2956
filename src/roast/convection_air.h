// SPDX-License-Identifier: MIT
#pragma once

namespace evenspit {

/// Dry air at atmospheric pressure.
struct AirProperties {
    double density_kg_m3 = 0;
    double specific_heat_j_kg_k = 0;
    double viscosity_pa_s = 0;
    double conductivity_w_m_k = 0;

    [[nodiscard]] double kinematic_viscosity_m2_s() const { return viscosity_pa_s / density_kg_m3; }
    [[nodiscard]] double prandtl() const {
        return viscosity_pa_s * specific_heat_j_kg_k / conductivity_w_m_k;
    }
};

/// Air at a temperature: density of an ideal gas at 101325 Pa, the rest in straight lines between the rows of
/// Incropera, "Fundamentals of Heat and Mass Transfer", table A.4 (from memory). What burning adds to it,
/// water vapour and carbon dioxide, is left out: some per cent of it where charcoal burns.
///
/// \param temperature_k what is below 250 or above 1500 K has the properties there, but for its density
AirProperties air_at(double temperature_k);

/// Of the same air, J/(kg K).
double air_specific_heat_j_kg_k(double temperature_k);

}  // namespace evenspit
