// SPDX-License-Identifier: MIT
#include "body/tissues.h"

#include <gtest/gtest.h>

namespace evenspit::body {
namespace {

double volume_of(const Tissues& t, const RegionMatter& matter) {
    return t.lean_kg / matter.lean_density +
           (t.skin_and_fat_kg > 0 ? t.skin_and_fat_kg / matter.skin_and_fat_density : 0) +
           t.gristle_kg / gristle_density;
}

TEST(Tissues, SharesAreOfTheMassAndVolumesAddUp) {
    const RegionMatter matter{0.38, 0.06, 1060, 1000};
    const Tissues tissues = tissues_of(matter, 300e-6, 0.06);
    EXPECT_NEAR(volume_of(tissues, matter), 300e-6, 1e-18);
    EXPECT_NEAR(tissues.bone_kg, 0.06, 0);
    EXPECT_NEAR(tissues.bone_kg + tissues.gristle_kg, 0.38 * tissues.all_kg(), 1e-15);
    EXPECT_NEAR(tissues.skin_and_fat_kg, 0.06 * tissues.all_kg(), 1e-15);
    EXPECT_NEAR(tissues.lean_kg, 0.56 * tissues.all_kg(), 1e-15);
}

TEST(Tissues, BonesBeyondTheirShareTakeThePlaceOfLean) {
    const RegionMatter matter{0.10, 0.20, 1060, 1000};
    const Tissues tissues = tissues_of(matter, 300e-6, 0.06);
    EXPECT_EQ(tissues.gristle_kg, 0);
    EXPECT_NEAR(volume_of(tissues, matter), 300e-6, 1e-18);
    EXPECT_NEAR(tissues.skin_and_fat_kg, 0.20 * tissues.all_kg(), 1e-15);
    EXPECT_GT(tissues.bone_kg, 0.10 * tissues.all_kg());
    // Both cases meet where the bones are just their share.
    const double bone_kg = 0.10 * tissues_of({0.10, 0.20, 1060, 1000}, 300e-6, 0).all_kg();
    const Tissues below = tissues_of(matter, 300e-6, 1.1 * bone_kg - 1e-9),
                  above = tissues_of(matter, 300e-6, 1.1 * bone_kg + 1e-9);
    EXPECT_NEAR(below.all_kg(), above.all_kg(), 1e-8);
}

TEST(Tissues, LeanAloneIsOfItsDensity) {
    const Tissues tissues = tissues_of({.lean_density = 1050}, 2e-3, 0);
    EXPECT_DOUBLE_EQ(tissues.lean_kg, 2.1);
    EXPECT_EQ(tissues.skin_and_fat_kg, 0);
    EXPECT_DOUBLE_EQ((0.5 * tissues).all_kg(), 1.05);
}

}  // namespace
}  // namespace evenspit::body
