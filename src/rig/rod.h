// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>

#include "rig/material.h"

namespace evenspit {

enum class Section { square, round, hexagon };

/// What a rod's section is worth in bending and torsion.
struct SectionProperties {
    double area_m2 = 0;
    double second_moment_m4 = 0;     ///< I, the same about every axis of these sections
    double least_modulus_m3 = 0;     ///< S in the worst attitude (corner outermost)
    double torsion_constant_m4 = 0;  ///< K in T = G K θ'
    double torsion_modulus_m3 = 0;   ///< τ_max = T / this
    double outer_radius_m = 0;       ///< half the diagonal; of the circle it turns in
};

/// How many flat sides a section has; 0 for a round one.
int flats_of(Section section);

/// Properties of a solid section. `width` is the side, the diameter, or the distance across flats, m, > 0.
///
/// Round: closed forms. Square: the torsion series of Saint-Venant. Hexagon: numbers computed for this
/// program by finite elements, extrapolated (the often quoted 0.1154 d⁴ is 0.3 % high).
SectionProperties section_properties(Section section, double width_m);

/// The spit rod.
struct Rod {
    Section section = Section::square;
    double width_m = 0;
    double length_m = 0;
    std::array<double, 2> supports_m{};  ///< stations: drive seat, far bearing
    std::array<double, 2> usable_m{};    ///< where items, forks and counterweights may sit
    Material material;
    double temperature_k = 293.15;  ///< the material is reduced to this
    /// Whether the rod runs in a round bushing at its far bearing; without one it rises and falls on its
    /// flats.
    bool bushing = true;
    std::optional<double> mark_m{};  ///< station from which a cook measures; absent: the drive end
};

}  // namespace evenspit
