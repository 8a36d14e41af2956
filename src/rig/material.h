// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

namespace evenspit {

/// A reduction at a temperature; between two rows it runs straight.
struct HotFactor {
    double temperature_k = 0;
    double modulus = 1;   ///< E(θ) / E(20 °C)
    double strength = 1;  ///< proof strength (0.2 %) or effective yield at θ over that at 20 °C
};

/// A rod's material.
struct Material {
    std::string name;
    double youngs_modulus_pa = 0;  ///< at 20 °C, or as given
    double yield_strength_pa = 0;  ///< at 20 °C, or as given
    double density_kg_m3 = 0;
    std::vector<HotFactor> hot;  ///< by rising temperature; empty: no reduction

    /// Stiffness and strength at a temperature; below the first row as at the first, above the last as at the
    /// last.
    [[nodiscard]] double modulus_at(double temperature_k) const;
    [[nodiscard]] double yield_at(double temperature_k) const;
};

}  // namespace evenspit
