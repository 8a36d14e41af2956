// SPDX-License-Identifier: MIT
#include "app/viewer/section.h"

#include <gtest/gtest.h>

namespace evenspit::viewer {
namespace {

TEST(PulledSection, FollowsThePointerAlongItsNormal) {
    const Section across{Section::Way::across, 0.3};
    const Vec3 handle(0.3, 0, 0.2);
    // From the front, level with the handle: the line of sight meets the handle's line.
    EXPECT_NEAR(pulled_section(across, handle, {{0.42, -1, 0.2}, Vec3::UnitY()}), 0.42, 1e-12);
    // Aslant, it still passes through (0.35, 0, 0.2).
    const Vec3 slanting = Vec3(0.4, 1, -0.3).normalized();
    EXPECT_NEAR(pulled_section(across, handle, {Vec3(0.35, 0, 0.2) - 2 * slanting, slanting}), 0.35, 1e-12);
    const Section along{Section::Way::along, 0.01};
    EXPECT_NEAR(pulled_section(along, {0.4, 0.01, 0.2}, {{0.4, -0.05, 1}, -Vec3::UnitZ()}), -0.05, 1e-12);
}

TEST(PulledSection, StaysWhereOneLooksAlongItsNormal) {
    EXPECT_EQ(pulled_section({Section::Way::across, 0.3}, {0.3, 0, 0.2}, {{-1, 0, 0.1}, Vec3::UnitX()}), 0.3);
}

}  // namespace
}  // namespace evenspit::viewer
