// SPDX-License-Identifier: MIT
#include "body/bird_species.h"

#include <cmath>

#include "body/composition.h"

namespace evenspit {

// Ranges of dressed weights: common practice, no source. Forms: from memory of such birds, trimmed until the
// parts of turkey and chicken weigh what published parts do (see bird_test.cpp).
const std::vector<BirdSpecies>& bird_species_table() {
    static const std::vector<BirdSpecies> table = [] {
        std::vector<BirdSpecies> birds;
        birds.push_back({"turkey", "whole bird, high and broad in the breast", 2.5, 20, 5.9, "05165", {}});
        BirdForm chicken;
        chicken.length = 0.93;
        chicken.breast = 0.94;
        chicken.keel = 1.2;
        chicken.thigh_girth = 1.07;
        chicken.drumstick_girth = 1.0;
        chicken.wing_girth = 0.97;
        chicken.neck_girth = 0.95;
        chicken.tail = 1.1;
        chicken.cavity = 1.06;
        birds.push_back({"chicken", "whole bird", 0.7, 5, 1.9, "05006", chicken});

        BirdForm duck;  // long, broad and flat, short in the leg
        duck.length = 1.16;
        duck.width = 1.06;
        duck.depth = 0.96;
        duck.breast = 0.84;
        duck.keel = 0.5;
        duck.leg_length = 0.82;
        duck.thigh_girth = 0.88;
        duck.drumstick_girth = 0.82;
        duck.splay = 1.15;
        duck.wing_length = 1.05;
        duck.wing_girth = 0.88;
        duck.neck_length = 1.2;
        duck.neck_girth = 1.1;
        duck.tail = 1.15;
        duck.cavity = 1.05;
        birds.push_back({"duck", "whole bird, long and flat", 1.2, 5, 2.3, "05139", duck});

        BirdForm goose = duck;  // longer still, with stronger wings and legs
        goose.length = 1.2;
        goose.width = 1.0;
        goose.depth = 1.0;
        goose.breast = 0.88;
        goose.keel = 0.9;
        goose.leg_length = 0.92;
        goose.thigh_girth = 0.93;
        goose.drumstick_girth = 0.88;
        goose.wing_length = 1.15;
        goose.wing_girth = 0.96;
        goose.neck_length = 1.5;
        birds.push_back(
            {"goose", "whole bird, longer than a duck and strong in the wings", 2.5, 8, 4.6, "05146", goose});

        BirdForm guinea_fowl = chicken;  // narrow, high-keeled
        guinea_fowl.length = 1.0;
        guinea_fowl.width = 0.95;
        guinea_fowl.breast = 1.0;
        guinea_fowl.keel = 2.2;
        guinea_fowl.thigh_girth = 1.0;
        birds.push_back(
            {"guinea fowl", "whole bird, narrow, with a high keel", 0.7, 2.2, 1.3, "05006", guinea_fowl});

        BirdForm quail = chicken;
        quail.length = 0.95;
        quail.thigh_girth = 0.95;
        quail.drumstick_girth = 0.9;
        quail.wing_girth = 0.85;
        birds.push_back({"quail", "whole bird, small and round", 0.1, 0.4, 0.2, "05006", quail});
        return birds;
    }();
    return table;
}

// Breast depth grows faster and leg bones slower than the cube root of the weight (J. Agric. Sci. 93:1, 1979,
// 44 turkeys; the exponents are from memory, and small).
BirdForm BirdSpecies::form_at(double mass_kg) const {
    const double ratio = mass_kg / reference_kg;
    BirdForm grown = form;
    grown.breast *= std::pow(ratio, 0.03);
    grown.leg_length *= std::pow(ratio, -0.03);
    grown.wing_length *= std::pow(ratio, -0.03);
    grown.keel *= std::pow(ratio, -0.1);
    return grown;
}

double BirdSpecies::flesh_density() const {
    constexpr double refrigerator = 4;  // °C
    return composition_density(raw_food(flesh).composition, refrigerator);
}

}  // namespace evenspit
