// SPDX-License-Identifier: MIT
#include "body/composition.h"

#include <stdexcept>

#include <gtest/gtest.h>

namespace evenspit {
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
    const std::pair<const char*, double> expected[] = {{"05165", 1052}, {"05219", 1062}, {"05169", 997},
                                                       {"05006", 1034}, {"05139", 994},  {"05146", 1011},
                                                       {"10070", 1029}, {"17011", 1032}, {"13827", 1017}};
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

TEST(Composition, RefusesWhatIsNoFood) {
    EXPECT_THROW(composition_density({.water = 0.5}, 20), std::invalid_argument);
    EXPECT_THROW(composition_density({.water = 1.1, .fat = -0.1}, 20), std::invalid_argument);
    EXPECT_THROW(composition_density({.water = 1}, 200), std::invalid_argument);
    EXPECT_THROW(raw_food("00000"), std::out_of_range);
}

}  // namespace
}  // namespace evenspit
