// SPDX-License-Identifier: MIT
#include "body/matter.h"

#include <gtest/gtest.h>

namespace evenspit::body {
namespace {

TEST(FleshField, IsReadByTheCubeOrTheNearest) {
    FleshField field{.origin = Vec3(1, 2, 3), .spacing_m = 0.5, .count = {2, 1, 2}, .values = {}};
    field.values = {{0.1f, 1.0f}, {0.2f, 2.0f}, {0.3f, 3.0f}, {0.4f, 4.0f}};
    EXPECT_EQ(field.at(Vec3(1.1, 2.1, 3.1)).strength, 0.1f);
    EXPECT_EQ(field.at(Vec3(1.6, 2.1, 3.1)).strength, 0.2f);
    EXPECT_EQ(field.at(Vec3(1.1, 2.1, 3.9)).strength, 0.3f);
    EXPECT_EQ(field.at(Vec3(9, 9, 9)).retreat_m, 4.0f);
    EXPECT_EQ(field.at(Vec3(-9, -9, -9)).retreat_m, 1.0f);
}

}  // namespace
}  // namespace evenspit::body
