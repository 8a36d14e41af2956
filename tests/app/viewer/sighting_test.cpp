// SPDX-License-Identifier: MIT
#include "app/viewer/sighting.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "scene/cooker_load.h"

namespace evenspit::viewer {
namespace {

using test::load_in_cooker;

std::string seen(const Assembly& load, const Vec3& from, const Vec3& at, double turn = 0) {
    const auto sighting = sighted(load, {from, (at - from).normalized()}, turn);
    return sighting ? thing_name(sighting->thing, load) : "nothing";
}

TEST(Sighting, MeetsTheNearestThing) {
    const Assembly load = load_in_cooker();
    EXPECT_EQ(seen(load, {0.34, -2, 0}, {0.34, 0, 0}), "roast");
    EXPECT_EQ(seen(load, {0.6, -2, 0}, {0.6, 0, 0}), "rod");
    EXPECT_EQ(seen(load, {0.23, -2, 0}, {0.23, 0, 0}), "fork 1");
    EXPECT_EQ(seen(load, {0.12, 0.07, 2}, {0.12, 0.07, 0}), "counterweight 1");
    EXPECT_EQ(seen(load, {-0.04, -2, 0}, {-0.04, 0, 0}), "motor");
    EXPECT_EQ(seen(load, {0.66, -2, -0.05}, {0.66, 0, -0.05}), "far bearing");
    EXPECT_EQ(seen(load, {0.34, -1, 0.5}, {0.34, -0.15, -0.2}), "coals");
    EXPECT_EQ(seen(load, {0.34, -2, 0.12}, {0.34, 0, 0.12}), "bowl")
        << "its far side, as the near one is cut away";
    EXPECT_EQ(seen(load, {0.34, -2, -0.5}, {0.34, 0, -0.6}), "ground");
    EXPECT_EQ(seen(load, {0.34, -2, 0.5}, {0.34, 0, 0.5}), "nothing");
}

TEST(Sighting, TurnsWithTheRod) {
    const Assembly load = load_in_cooker();
    // The weight hangs at clock 0: toward +Y at turn 0, up after a quarter turn.
    EXPECT_EQ(seen(load, {0.12, -2, 0.07}, {0.12, 0, 0.07}, 0), "bowl");
    EXPECT_EQ(seen(load, {0.12, -2, 0.07}, {0.12, 0, 0.07}, std::numbers::pi / 2), "counterweight 1");
}

TEST(Sighting, TellsWhereItWasSeen) {
    const Assembly load = load_in_cooker();
    const auto sighting = sighted(load, {Vec3(0.3, -1, 0.02), Vec3::UnitY()}, 0);
    ASSERT_TRUE(sighting);
    EXPECT_TRUE(sighting->at.isApprox(Vec3(0.3, -0.05, 0.02), 1e-9));
}

}  // namespace
}  // namespace evenspit::viewer
