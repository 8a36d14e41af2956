// SPDX-License-Identifier: MIT
#include "roast/flesh_laws.h"

#include <gtest/gtest.h>

#include "units/unit_table.h"

namespace evenspit {
namespace {

double k(double celsius) {
    return celsius + unit_factors::celsius_zero_k;
}

// Van der Sman's law by hand, kilograms of water for each of raw meat: 0.738, 0.677, 0.586, 0.486 and 0.409
// at 50, 60, 65, 70 and 80 °C.
TEST(FleshLaws, HoldsWaterAsPublished) {
    const double held[][2] = {{50, 0.738}, {60, 0.677}, {65, 0.586}, {70, 0.486}, {80, 0.409}};
    for (const auto& [celsius, share] : held) EXPECT_NEAR(water_held(k(celsius)) * 0.745, share, 0.0006);
    EXPECT_NEAR(water_held(k(5)), 1, 1e-4);
}

// Ducks and geese lose 57 and 62 % of their fat (USDA SR26).
TEST(FleshLaws, FatRunsBetweenMeltingAndGelatine) {
    EXPECT_EQ(fat_rendered(k(30)), 0);
    EXPECT_NEAR(fat_rendered(k(56)), 0.3, 1e-9);
    EXPECT_NEAR(fat_rendered(k(80)), 0.6, 1e-9);
    EXPECT_EQ(fat_rendered(k(120)), fat_rendered(k(80)));
}

TEST(FleshLaws, FleshSoftensFromSettingOn) {
    const double raw = 322e3, cooked = 140e3;
    EXPECT_EQ(strength_left(raw, cooked, k(50), 0), 1);
    EXPECT_NEAR(strength_left(raw, cooked, k(66.5), 0), (raw + cooked) / 2 / raw, 1e-9);
    EXPECT_NEAR(strength_left(raw, cooked, k(80), 0), cooked / raw, 1e-9);
    // Held hot for long it comes down to what roasted meat bears across its fibres.
    const double three_hours = strength_left(raw, cooked, k(90), 3 * 3600);
    EXPECT_LT(three_hours, 0.6 * cooked / raw);
    EXPECT_NEAR(strength_left(raw, cooked, k(90), 1e6), 25e3 / raw, 1e-6);
}

TEST(FleshLaws, ASurfaceDriesSlowerAndSlower) {
    const double first = water_reaching_surface_kg_m2s(790, 600);
    EXPECT_NEAR(water_reaching_surface_kg_m2s(790, 2400), first / 2, 1e-12);
    EXPECT_NEAR(first, 790 * std::sqrt(4e-10 / (3.14159265 * 600)), 1e-9);
}

}  // namespace
}  // namespace evenspit
