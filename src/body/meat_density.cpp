// SPDX-License-Identifier: MIT
#include "body/meat_density.h"

#include <algorithm>

#include "body/composition.h"
#include "body/tissues.h"

namespace evenspit::body {

namespace {

constexpr double refrigerator = 4;  // °C
constexpr double most_bone =
    1.0 / 3;  // of the mass; half of it gristle and sinew, as in the parametric birds
constexpr double volume_slack = 0.06;

// Fat of the fattest cut without a bone, as a share: duck with its skin 05139, pork belly 10005, beef brisket
// 13147, lamb rib 17027, the last three from memory.
double most_fat(Meat meat) {
    switch (meat) {
        case Meat::poultry:
            return 0.39;
        case Meat::beef:
            return 0.36;
        case Meat::lamb:
            return 0.34;
        case Meat::pork:
        case Meat::unknown:
            break;
    }
    return 0.53;
}

bool may_be_hollow(const Body& body) {
    if (body.hollow_known || !body.shape.empty()) return false;
    const bool told = std::any_of(body.parts.begin(), body.parts.end(), [](const Part& part) {
        return part.kind == PartKind::cavity || part.kind == PartKind::stuffing;
    });
    return !told && (body.meat == Meat::poultry || body.meat == Meat::unknown);
}

// As flesh_density_range(), no wider.
DensityRange as_listed(Meat meat) {
    const Composition lean = raw_food("05219").composition;
    const double fat = (most_fat(meat) - lean.fat) / (1 - lean.fat), rest = 1 - fat;
    const Composition fattest{.water = rest * lean.water,
                              .protein = rest * lean.protein,
                              .fat = fat + rest * lean.fat,
                              .ash = rest * lean.ash};
    const double boned = (1 - most_bone) / composition_density(lean, refrigerator) +
                         most_bone / 2 / bone_density + most_bone / 2 / gristle_density;
    return {composition_density(fattest, refrigerator), 1 / boned};
}

}  // namespace

DensityRange flesh_density_range(Meat meat) {
    const DensityRange range = as_listed(meat);
    return {range.least_kg_m3 * (1 - volume_slack), range.greatest_kg_m3 * (1 + volume_slack)};
}

DensitySpread usual_flesh_density(Meat meat) {
    const DensityRange range = as_listed(meat);
    return {(range.least_kg_m3 + range.greatest_kg_m3) / 2, (range.greatest_kg_m3 - range.least_kg_m3) / 4};
}

DensityRange density_range(const Body& body) {
    DensityRange range = flesh_density_range(body.meat);
    if (may_be_hollow(body)) range.least_kg_m3 *= 1 - hollow_of_birds * (1 + hollow_spread);
    return range;
}

}  // namespace evenspit::body
