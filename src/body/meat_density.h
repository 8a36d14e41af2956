// SPDX-License-Identifier: MIT
#pragma once

#include "body/body.h"

namespace evenspit::body {

/// What bodies weigh for their size, kg/m3.
struct DensityRange {
    double least_kg_m3 = 0, greatest_kg_m3 = 0;

    [[nodiscard]] bool holds(double kg_m3) const { return kg_m3 >= least_kg_m3 && kg_m3 <= greatest_kg_m3; }
};

/// Usual: a whole turkey (Choi and Okos, see composition_density(), with USDA SR26 05165).
inline constexpr double usual_meat_kg_m3 = 1050;

/// σ of how much larger or smaller a bird's hollow is than that of the parametric bird like it, as a share of
/// it: common practice, no source.
inline constexpr double hollow_spread = 0.35;

/// Flesh with its skin, fat and bone, from the fattest cut without a bone to fatless flesh with a third of
/// bone: composition_density() at 4 °C of what USDA SR26 lists. Wider by 6 % either way: two standard
/// deviations of a volume whose lengths are right to 1 %.
DensityRange flesh_density_range(Meat meat);

/// What one weighs for its size: the middle, and σ.
struct DensitySpread {
    double kg_m3 = 0, sigma_kg_m3 = 0;
};

/// The middle of flesh_density_range() but for how much wider that is made; its ends lie two σ off.
DensitySpread usual_flesh_density(Meat meat);

/// Of the volume inside the skin, the most that a parametric bird has: meat_density_test holds them to it.
inline constexpr double hollow_of_birds = 0.19;

/// Of a body, by its kind. What may be a bird, and tells of no cavity, may hold air in it: as much as the
/// parametric birds do, and a third more.
DensityRange density_range(const Body& body);

}  // namespace evenspit::body
