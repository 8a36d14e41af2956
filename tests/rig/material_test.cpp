// SPDX-License-Identifier: MIT
#include "rig/material.h"

#include <gtest/gtest.h>

namespace evenspit {
namespace {

constexpr double celsius = 273.15;

/// Stainless steel 1.4301: EN 1993-1-2, Annex C, table C.1 (factors); EN 1993-1-4 (20 °C values, from
/// memory).
Material stainless_steel() {
    return {.name = "stainless steel",
            .youngs_modulus_pa = 200e9,
            .yield_strength_pa = 210e6,
            .density_kg_m3 = 7900,
            .hot = {{20 + celsius, 1, 1},
                    {100 + celsius, 0.96, 0.82},
                    {200 + celsius, 0.92, 0.68},
                    {300 + celsius, 0.88, 0.64},
                    {400 + celsius, 0.84, 0.60},
                    {500 + celsius, 0.80, 0.54},
                    {600 + celsius, 0.76, 0.49},
                    {700 + celsius, 0.71, 0.40}}};
}

}  // namespace

TEST(Material, AtARowIsThatRow) {
    const Material steel = stainless_steel();
    for (const HotFactor& row : steel.hot) {
        EXPECT_NEAR(steel.modulus_at(row.temperature_k), 200e9 * row.modulus, 1) << row.temperature_k;
        EXPECT_NEAR(steel.yield_at(row.temperature_k), 210e6 * row.strength, 1e-3) << row.temperature_k;
    }
}

// EN 1993-1-2 gives at 300 °C: E = 0.88 · 200 GPa = 176 GPa, proof strength 0.64 · 210 MPa = 134.4 MPa.
TEST(Material, StainlessSteelAtThreeHundredDegrees) {
    const Material steel = stainless_steel();
    EXPECT_NEAR(steel.modulus_at(300 + celsius), 176e9, 1);
    EXPECT_NEAR(steel.yield_at(300 + celsius), 134.4e6, 1e-3);
}

TEST(Material, RunsStraightBetweenRows) {
    const Material steel = stainless_steel();
    EXPECT_NEAR(steel.modulus_at(350 + celsius), 200e9 * 0.86, 1);
    EXPECT_NEAR(steel.yield_at(275 + celsius), 210e6 * 0.65, 1e-2);
    EXPECT_NEAR(steel.yield_at(60 + celsius), 210e6 * 0.91, 1e-2);
}

TEST(Material, StandsAtTheEndsOfItsTable) {
    const Material steel = stainless_steel();
    EXPECT_DOUBLE_EQ(steel.modulus_at(-40 + celsius), 200e9);
    EXPECT_DOUBLE_EQ(steel.yield_at(-40 + celsius), 210e6);
    EXPECT_DOUBLE_EQ(steel.modulus_at(900 + celsius), 200e9 * 0.71);
    EXPECT_DOUBLE_EQ(steel.yield_at(900 + celsius), 210e6 * 0.40);
}

TEST(Material, IsContinuous) {
    const Material steel = stainless_steel();
    for (const HotFactor& row : steel.hot) {
        EXPECT_NEAR(steel.modulus_at(row.temperature_k - 1e-6), steel.modulus_at(row.temperature_k + 1e-6),
                    1e3);
        EXPECT_NEAR(steel.yield_at(row.temperature_k - 1e-6), steel.yield_at(row.temperature_k + 1e-6), 10);
    }
}

TEST(Material, WithoutATableIsNeverReduced) {
    const Material given{
        .name = "", .youngs_modulus_pa = 193e9, .yield_strength_pa = 250e6, .density_kg_m3 = 8000, .hot = {}};
    EXPECT_DOUBLE_EQ(given.modulus_at(900), 193e9);
    EXPECT_DOUBLE_EQ(given.yield_at(900), 250e6);
}

TEST(Material, OneRowHoldsEverywhere) {
    const Material given{.name = "",
                         .youngs_modulus_pa = 1,
                         .yield_strength_pa = 1,
                         .density_kg_m3 = 1,
                         .hot = {{500, 0.5, 0.25}}};
    for (const double t : {300.0, 500.0, 700.0}) {
        EXPECT_DOUBLE_EQ(given.modulus_at(t), 0.5);
        EXPECT_DOUBLE_EQ(given.yield_at(t), 0.25);
    }
}

}  // namespace evenspit
