// SPDX-License-Identifier: MIT
#pragma once

namespace evenspit {

/// Stefan–Boltzmann constant, W/(m²·K⁴) (CODATA 2018, exact since 2019).
inline constexpr double stefan_boltzmann_w_m2_k4 = 5.670374419e-8;

/// Standard atmosphere, Pa (CGPM 1954).
inline constexpr double standard_atmosphere_pa = 101325;

}  // namespace evenspit
