// SPDX-License-Identifier: MIT
#include "rig/rod.h"

#include <cmath>
#include <numbers>

namespace evenspit {
namespace {

using std::numbers::pi;
using std::numbers::sqrt2;
using std::numbers::sqrt3;

SectionProperties round_section(double d) {
    return {.area_m2 = pi * d * d / 4,
            .second_moment_m4 = pi * std::pow(d, 4) / 64,
            .least_modulus_m3 = pi * std::pow(d, 3) / 32,
            .torsion_constant_m4 = pi * std::pow(d, 4) / 32,
            .torsion_modulus_m3 = pi * std::pow(d, 3) / 16,
            .outer_radius_m = d / 2};
}

/// Torsion of a square bar of side 1.
struct SquareTorsion {
    double constant = 0;  ///< K / s⁴
    double stress = 0;    ///< τ_max / (G θ' s)
};

// Saint-Venant's series for a square bar (Timoshenko and Goodier, Theory of Elasticity, §109; from memory).
// Σ tanh(nπ/2)/n⁵ over odd n falls off as slowly as n⁻⁵; what tanh lacks to 1 falls off like e^(−nπ), and the
// rest is Σ 1/n⁵ = (31/32) ζ(5). Ten terms are then more than double precision can tell apart.
SquareTorsion square_torsion() {
    constexpr double zeta_5 = 1.0369277551433699263;
    double constant_sum = 31.0 / 32 * zeta_5, stress_sum = 0;
    for (int n = 1; n < 20; n += 2) {
        constant_sum -= 2 / (std::pow(n, 5) * (std::exp(n * pi) + 1));
        stress_sum += 1 / (n * n * std::cosh(n * pi / 2));
    }
    return {(1 - 192 / std::pow(pi, 5) * constant_sum) / 3, 1 - 8 / (pi * pi) * stress_sum};
}

SectionProperties square_section(double s) {
    static const SquareTorsion torsion = square_torsion();  // summed once, asked for in every analysis
    return {.area_m2 = s * s,
            .second_moment_m4 = std::pow(s, 4) / 12,
            .least_modulus_m3 = std::pow(s, 3) / (6 * sqrt2),
            .torsion_constant_m4 = torsion.constant * std::pow(s, 4),
            .torsion_modulus_m3 = torsion.constant / torsion.stress * std::pow(s, 3),
            .outer_radius_m = s / sqrt2};
}

// Bending in closed form. Torsion has none: the numbers are this project's own finite-element solution of
// Prandtl's stress function, extrapolated; the tests solve it again.
SectionProperties hexagon_section(double d) {
    return {.area_m2 = sqrt3 / 2 * d * d,
            .second_moment_m4 = 5 * sqrt3 / 144 * std::pow(d, 4),
            .least_modulus_m3 = 5.0 / 48 * std::pow(d, 3),
            .torsion_constant_m4 = 0.1150509944 * std::pow(d, 4),
            .torsion_modulus_m3 = 0.18767337 * std::pow(d, 3),
            .outer_radius_m = d / sqrt3};
}

}  // namespace

int flats_of(Section section) {
    switch (section) {
        case Section::square:
            return 4;
        case Section::hexagon:
            return 6;
        case Section::round:
            break;
    }
    return 0;
}

SectionProperties section_properties(Section section, double width_m) {
    switch (section) {
        case Section::round:
            return round_section(width_m);
        case Section::square:
            return square_section(width_m);
        case Section::hexagon:
            return hexagon_section(width_m);
    }
    return {};
}

}  // namespace evenspit
