// SPDX-License-Identifier: MIT
#include "body/composition.h"

#include <stdexcept>

#include <gtest/gtest.h>

namespace evenspit::body {
namespace {

// A worked example that goes with a published implementation of Choi & Okos (1986): 12 % protein, 5 %
// carbohydrate, 83 % water at 22 °C weigh 1045.8 kg/m3.
TEST(Composition, PublishedExample) {
    EXPECT_NEAR(composition_density({.water = 0.83, .protein = 0.12, .carbohydrate = 0.05}, 22), 1045.8,
                0.05);
}

// Pure components are the published lines themselves.
TEST(Composition, PureComponentsAreTheirLines) {
    EXPECT_DOUBLE_EQ(composition_density({.water = 1}, 0), 997.18);
    EXPECT_DOUBLE_EQ(composition_density({.protein = 1}, 0), 1329.9);
    EXPECT_DOUBLE_EQ(composition_density({.fat = 1}, 20), 925.59 - 0.41757 * 20);
    EXPECT_DOUBLE_EQ(composition_density({.carbohydrate = 1}, 0), 1599.1);
    EXPECT_DOUBLE_EQ(composition_density({.fibre = 1}, 0), 1311.5);
    EXPECT_DOUBLE_EQ(composition_density({.ash = 1}, 0), 2423.8);
}

// Densities at 20 °C computed by an independent implementation from the SR26 compositions.
TEST(Composition, RawFoodsAtTwentyDegrees) {
    const std::pair<const char*, double> expected[] = {
        {"05165", 1052},   {"05219", 1062},   {"05169", 997},    {"05006", 1034},   {"05139", 994},
        {"05146", 1011},   {"10070", 1029},   {"17011", 1032},   {"13827", 1017},   {"05167", 1055.7},
        {"05015", 1003.2}, {"05039", 1060.3}, {"05043", 1048.6}, {"05141", 1044.2}, {"05148", 1055.5},
        {"05152", 1055.4}, {"05159", 1060.7}};
    EXPECT_EQ(raw_foods().size(), std::size(expected));
    for (const auto& [ndb, density] : expected) {
        EXPECT_NEAR(composition_density(raw_food(ndb).composition, 20), density, 0.6) << ndb;
    }
}

// Tables that sum to 0.99 or 1.01 mean the same food as the one scaled to 1.
TEST(Composition, RoundedTablesAreTakenInProportion) {
    const double whole = composition_density({.water = 0.7, .protein = 0.2, .fat = 0.1}, 20);
    EXPECT_NEAR(composition_density({.water = 0.693, .protein = 0.198, .fat = 0.099}, 20), whole, 1e-9);
}

// A food and what was taken out of it make the food again.
TEST(Composition, WhatIsLeftAndWhatWasTakenMakeTheWhole) {
    const Composition duck = raw_food("05139").composition, meat = raw_food("05141").composition;
    const double share = 0.34 / 0.72;  // lean of the edible (SR26: 28 % bone, 38 % skin and separable fat)
    const Composition skin = without(duck, meat, share);
    EXPECT_NEAR(skin.fat, 0.692, 0.001);
    const auto both = [&](double Composition::*of) { return share * meat.*of + (1 - share) * skin.*of; };
    EXPECT_NEAR(both(&Composition::water), duck.water, 1e-15);
    EXPECT_NEAR(both(&Composition::protein), duck.protein, 1e-15);
    EXPECT_NEAR(both(&Composition::fat), duck.fat, 1e-15);
    EXPECT_NEAR(both(&Composition::ash), duck.ash, 1e-15);
}

TEST(Composition, RefusesWhatIsNoFood) {
    EXPECT_THROW(composition_density({.water = 0.5}, 20), std::invalid_argument);
    EXPECT_THROW(composition_density({.water = 1.1, .fat = -0.1}, 20), std::invalid_argument);
    EXPECT_THROW(composition_density({.water = 1}, 200), std::invalid_argument);
    EXPECT_THROW(raw_food("00000"), std::out_of_range);
}

}  // namespace
}  // namespace evenspit::body
