// SPDX-License-Identifier: MIT
#pragma once

namespace evenspit::body {

/// Whole wet bone with its marrow: 1200 to 1400 kg/m3, from memory. (Mineral-rich bone alone: 1800.)
inline constexpr double bone_density = 1300;
/// Cartilage and sinew: from memory.
inline constexpr double gristle_density = 1100;

/// What a region of a body is made of, as tables of foods tell it.
struct RegionMatter {
    double bone = 0;  ///< share of the region's mass that is bone, gristle and sinew
    double skin_and_fat =
        0;  ///< share that is skin and the fat that comes off with the knife; the rest is lean
    double lean_density = 0;          ///< kg/m3
    double skin_and_fat_density = 0;  ///< kg/m3
};

/// Masses of a region's tissues, kg.
struct Tissues {
    double lean_kg = 0;
    double skin_and_fat_kg = 0;
    double gristle_kg = 0;  ///< what tables count as bone beyond the bones that are shaped
    double bone_kg = 0;     ///< the bones that are shaped

    [[nodiscard]] double flesh_kg() const { return lean_kg + skin_and_fat_kg + gristle_kg; }
    [[nodiscard]] double all_kg() const { return flesh_kg() + bone_kg; }
};
Tissues operator*(double factor, const Tissues& tissues);

/// The tissues of a region whose flesh fills `flesh_volume_m3` beside bones of `bone_kg`: shares of the mass
/// as in `matter`, volumes that add up. Where the bones alone are more than their share, there is no gristle.
///
/// \pre flesh_volume_m3 > 0; densities positive where their shares are; bone + skin_and_fat ≤ 1
Tissues tissues_of(const RegionMatter& matter, double flesh_volume_m3, double bone_kg);

}  // namespace evenspit::body
