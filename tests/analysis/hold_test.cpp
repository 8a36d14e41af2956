// SPDX-License-Identifier: MIT
#include "analysis/hold.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "analysis/figures.h"
#include "analysis/grip.h"
#include "loads.h"

namespace evenspit {
namespace {

Analysis worked_out(const Assembly& a) {
    return figures(
        a, [](const Assembly& load) { return swept_load(load); }, Detail::full);
}

}  // namespace

// A screw that bears on its tip, friction 0.15: newtons of thrust for a newton metre, by thread, as a
// handbook's formula gives them (worked out by hand): M5 1438, M6 1192, M8 901, M10 725.
TEST(Clamp, PressesAsTheScrewsFormulaSays) {
    EXPECT_NEAR(clamp_force({.screw_m = 0.005, .torque_n_m = 1}), 1438, 3);
    EXPECT_NEAR(clamp_force({.screw_m = 0.006, .torque_n_m = 1}), 1192, 3);
    EXPECT_NEAR(clamp_force({.screw_m = 0.008, .torque_n_m = 1}), 901, 3);
    EXPECT_NEAR(clamp_force({.screw_m = 0.010, .torque_n_m = 2}), 2 * 725, 5);
}

// M8, 2 N m, greased, on 12 mm: 1800 N hold 2.2 N m.
TEST(Clamp, HoldsByFrictionAtTipAndWall) {
    const Clamp clamp{.screw_m = 0.008, .torque_n_m = 2};
    Rod rod = test::steel_rod();
    rod.width_m = 0.012;
    EXPECT_NEAR(clamp_torque(clamp, rod), 2.16, 0.01);
    EXPECT_NEAR(clamp_thrust(clamp), 2 * 0.10 * 1802, 1);
}

// 2 kg on four tines of 5 mm, 60 mm in the meat each, and 8 mm of rod over 200 mm, at 140 kPa.
TEST(Hold, WeightBearsOnTinesAndRod) {
    const Analysis a = worked_out(test::good_load());
    const double area_m2 = 4 * 0.005 * 0.06 + 0.008 * 0.2;
    EXPECT_NEAR(a.grip.items[0].weight_use.value(), 2 * standard_gravity / (140e3 * area_m2), 1e-12);
    EXPECT_NEAR(a.grip.items[0].hold_use.value(), a.grip.items[0].weight_use.value(), 1e-12) << "no torque";
}

// With its heavy side where a tine is, weight and torque pull that tine the same way a quarter turn later.
TEST(Hold, WeightAndTorqueAddOnTheWorstTine) {
    Assembly a = test::good_load();
    a.items = {test::item("roast", test::flesh(test::box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), 0.34,
                          {0.01, 0})};
    const ItemGrip item = worked_out(a).grip.items[0];
    EXPECT_NEAR(item.hold_use.value(), item.weight_use.value() + item.torque_use.value(), 1e-9);
    // Tines a quarter turn from the heavy side: at right angles when the torque peaks.
    for (Fork& fork : a.forks) fork.clock_rad = std::numbers::pi / 2;
    const ItemGrip across = worked_out(a).grip.items[0];
    EXPECT_LT(across.hold_use.value(), item.hold_use.value());
    EXPECT_GE(across.hold_use.value(),
              std::hypot(across.weight_use.value(), across.torque_use.value()) - 1e-9);
}

TEST(Hold, OnlyABoreThatIsNotTheRodsTurns) {
    Assembly a = test::good_load();
    a.items = {test::item("roast", test::flesh(test::box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), 0.34,
                          {0.02, 0})};
    EXPECT_FALSE(worked_out(a).grip.forks[0].clamp_use.has_value());
    for (Fork& fork : a.forks) fork.bore = Section::round;
    const Analysis turned = worked_out(a);
    const double each_n_m = 2 * standard_gravity * 0.02 / 2;
    EXPECT_NEAR(turned.grip.forks[0].clamp_use.value(), each_n_m / clamp_torque(Clamp{}, a.rod), 1e-9);
}

// On a rod that does not sag, what slides is the weight on a slope of 2°.
TEST(Hold, SlidingIsTheWeightOnItsSlope) {
    Assembly a = test::good_load();
    a.rod.material.youngs_modulus_pa *= 1e6;
    const double thrust = 2 * clamp_thrust(Clamp{});
    EXPECT_NEAR(worked_out(a).grip.items[0].slide_use.value(),
                2 * standard_gravity * 2 * std::numbers::pi / 180 / thrust, 1e-6);
}

// 2 kg on four pins of 5 mm, with flesh in the middle 40 mm from the hub: 32 M / πd³ against 400 MPa.
TEST(Hold, TinesBendAsPinsFixedInTheirHub) {
    const Analysis a = worked_out(test::good_load());
    const double moment = 2 * standard_gravity / 4 * 0.04;
    EXPECT_NEAR(a.grip.forks[0].tines[0].bend_use.value(),
                32 * moment / (std::numbers::pi * std::pow(0.005, 3)) / 400e6, 1e-9);
}

// One fork alone bears all, and what turns the body about it: its centre of mass is 110 mm from the hub.
TEST(Hold, TinesOfALoneForkBearTheWholeCouple) {
    Assembly a = test::good_load();
    const double hub = a.forks[0].at_m, centre = items_on_rod(a)[0].centre.x();
    a.forks.resize(1);
    const double moment = 2 * standard_gravity / 2 * (centre - hub);
    EXPECT_GT(centre - hub, 0.1);
    EXPECT_NEAR(worked_out(a).grip.forks[0].tines[0].bend_use.value(),
                32 * moment / (std::numbers::pi * std::pow(0.005, 3)) / 400e6, 1e-9);
}

}  // namespace evenspit
