// SPDX-License-Identifier: MIT
#include "body/bird_species.h"

#include <algorithm>
#include <cmath>

namespace evenspit::body {
namespace {

Composition food(std::string_view ndb) {
    return raw_food(ndb).composition;
}

// Bone with gristle, and skin with separable fat, of raw parts as bought: USDA SR26, refuse of 05219
// (breast), 05215 (back), 05740, 05738, 05227. The neck's bone is that of 05179; its skin, and the tail, are
// from memory.
BirdMatter turkey_matter() {
    return {.breast = {0.12, 0.10},
            .back = {0.50, 0.12},
            .neck = {0.60, 0.15},
            .tail = {0.20, 0.50},
            .thigh = {0.20, 0.10},
            .drumstick = {0.38, 0.06},
            .wing = {0.44, 0.16},
            .light = food("05219"),
            .dark = food("05167"),
            .skin = food("05169")};
}

// The same: 05057 and 05062 (breast), 05053 (back), 05088 (neck), 05096, 05071, 05105; the tail from memory.
BirdMatter chicken_matter() {
    return {.breast = {0.20, 0.15},
            .back = {0.44, 0.27},
            .neck = {0.36, 0.39},
            .tail = {0.20, 0.50},
            .thigh = {0.15, 0.25},
            .drumstick = {0.33, 0.09},
            .wing = {0.46, 0.22},
            .light = food("05039"),
            .dark = food("05043"),
            .skin = food("05015")};
}

// Other birds are in the tables as wholes only: bone and skin are spread over the parts as in a chicken,
// whose parts sum to 29 % and 20 %. At least a sixth of each part is lean.
BirdMatter like_chicken(double bone, double skin_and_fat, const Composition& lean, const Composition& skin) {
    BirdMatter parts = chicken_matter();
    for (BirdMatter::Shares* part : {&parts.breast, &parts.back, &parts.neck, &parts.tail, &parts.thigh,
                                     &parts.drumstick, &parts.wing}) {
        part->bone *= bone / 0.29;
        part->skin_and_fat = std::min(part->skin_and_fat * skin_and_fat / 0.20, 5.0 / 6 - part->bone);
    }
    parts.light = parts.dark = lean;
    parts.skin = skin;
    return parts;
}

// SR26 05139 and 05141: 28 % bone, 38 % skin and separable fat.
BirdMatter duck_matter() {
    return like_chicken(0.28, 0.38, food("05141"), without(food("05139"), food("05141"), 0.34 / 0.72));
}
// 05146 and 05148.
BirdMatter goose_matter() {
    return like_chicken(0.19, 0.34, food("05148"), without(food("05146"), food("05148"), 0.47 / 0.81));
}
// 05152, 05158; skin as of chicken.
BirdMatter guinea_fowl_matter() {
    return like_chicken(0.17, 0.19, food("05152"), food("05015"));
}
BirdMatter quail_matter() {
    return like_chicken(0.10, 0.14, food("05159"), food("05015"));
}

}  // namespace

// Ranges of dressed weights: common practice, no source. Forms: from memory of such birds, trimmed until the
// parts of turkey and chicken weigh what published parts do (see bird_test.cpp).
const std::vector<BirdSpecies>& bird_species_table() {
    static const std::vector<BirdSpecies> table = [] {
        std::vector<BirdSpecies> birds;
        birds.push_back(
            {"turkey", "whole bird, high and broad in the breast", 2.5, 20, 5.9, turkey_matter(), {}});
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
        birds.push_back({"chicken", "whole bird", 0.7, 5, 1.9, chicken_matter(), chicken});

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
        duck.cavity = 0.94;
        birds.push_back({"duck", "whole bird, long and flat", 1.2, 5, 2.3, duck_matter(), duck});

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
        birds.push_back({"goose", "whole bird, longer than a duck and strong in the wings", 2.5, 8, 4.6,
                         goose_matter(), goose});

        BirdForm guinea_fowl = chicken;  // narrow, high-keeled
        guinea_fowl.length = 1.0;
        guinea_fowl.width = 0.95;
        guinea_fowl.breast = 1.0;
        guinea_fowl.keel = 2.2;
        guinea_fowl.thigh_girth = 1.0;
        birds.push_back({"guinea fowl", "whole bird, narrow, with a high keel", 0.7, 2.2, 1.3,
                         guinea_fowl_matter(), guinea_fowl});

        BirdForm quail = chicken;
        quail.length = 0.95;
        quail.thigh_girth = 0.95;
        quail.drumstick_girth = 0.9;
        quail.wing_girth = 0.85;
        birds.push_back({"quail", "whole bird, small and round", 0.1, 0.4, 0.2, quail_matter(), quail});
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

std::vector<RegionMatter> BirdSpecies::matter() const {
    constexpr double refrigerator = 4;  // °C
    const double skin = composition_density(parts.skin, refrigerator);
    const auto made_of = [&](const BirdMatter::Shares& shares, const Composition& lean) {
        return RegionMatter{shares.bone, shares.skin_and_fat, composition_density(lean, refrigerator), skin};
    };
    const RegionMatter thigh = made_of(parts.thigh, parts.dark),
                       drumstick = made_of(parts.drumstick, parts.dark),
                       wing = made_of(parts.wing, parts.light);
    // In the order of BirdRegion.
    return {made_of(parts.breast, parts.light),
            made_of(parts.back, parts.dark),
            made_of(parts.neck, parts.dark),
            made_of(parts.tail, parts.dark),
            thigh,
            thigh,
            drumstick,
            drumstick,
            wing,
            wing};
}

}  // namespace evenspit::body
