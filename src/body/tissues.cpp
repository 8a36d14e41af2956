// SPDX-License-Identifier: MIT
#include "body/tissues.h"

#include <algorithm>

namespace evenspit::body {

Tissues operator*(double factor, const Tissues& t) {
    return {factor * t.lean_kg, factor * t.skin_and_fat_kg, factor * t.gristle_kg, factor * t.bone_kg};
}

// With M the region's mass, s and b its shares of skin and of bone, G that of gristle and B the bones':
// V = M·s/ρ_s + (M·b − B)/ρ_G + M·(1 − s − b)/ρ_l is solved for M. If it makes M·b < B, the bones take the
// place of lean: V = M·s/ρ_s + (M·(1 − s) − B)/ρ_l.
Tissues tissues_of(const RegionMatter& matter, double flesh_volume_m3, double bone_kg) {
    const auto volume = [](double share, double density) { return share > 0 ? share / density : 0.0; };
    const double skin = volume(matter.skin_and_fat, matter.skin_and_fat_density);
    const double lean = 1 - matter.skin_and_fat - matter.bone;
    const double with_gristle = (flesh_volume_m3 + bone_kg / gristle_density) /
                                (skin + matter.bone / gristle_density + volume(lean, matter.lean_density));
    if (with_gristle * matter.bone >= bone_kg) {
        return {with_gristle * lean, with_gristle * matter.skin_and_fat, with_gristle * matter.bone - bone_kg,
                bone_kg};
    }
    const double mass = (flesh_volume_m3 + bone_kg / matter.lean_density) /
                        (skin + volume(1 - matter.skin_and_fat, matter.lean_density));
    const double skin_kg = mass * matter.skin_and_fat;
    return {std::max(0.0, mass - skin_kg - bone_kg), skin_kg, 0, bone_kg};
}

}  // namespace evenspit::body
