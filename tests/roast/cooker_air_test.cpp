// SPDX-License-Identifier: MIT
#include "roast/cooker_air.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "roast/convection.h"
#include "scenes.h"

namespace evenspit {
namespace {

constexpr double ambient_k = 293.15;

// A ball of 0.5 m, cut at the rod: its walls, a coal bed of 0.3 m by 0.3 m.
Cooker round_cooker() {
    RevolvedShape base{Vec3(0.34, 0, 0), {}}, lid{Vec3(0.34, 0, 0), {}};
    for (int k = 0; k <= 60; ++k) {
        const double angle = std::numbers::pi / 2 * k / 60;
        base.profile.emplace_back(0.25 * std::sin(angle), -0.25 * std::cos(angle));
        lid.profile.emplace_back(0.25 * std::cos(angle), 0.25 * std::sin(angle));
    }
    return test::scene({},
                       {test::surface("coals", BoxShape{Vec3(.19, -.15, -.2), Vec3(.49, .15, -.15)}, true),
                        test::surface("base", base), test::surface("lid", lid)})
        .cooker;
}

CookerShell shell(WallKind wall) {
    Cooker cooker = round_cooker();
    cooker.wall = wall;
    return shell_of(cooker, ambient_k);
}

CookerState burning(const CookerShell& cooker, FuelKind fuel = FuelKind::gas, double mass_kg = 0) {
    Fire fire =
        lit_fire(fuel, mass_kg, fuel == FuelKind::gas ? cooker.fire_m2 : pile_area_m2(fuel, mass_kg, 0.1));
    fire.since_lit_s = fuel_properties(fuel).lighting_s;
    return cold_cooker(cooker, fire);
}

LoadSkin wet_skin() {
    return {.area_m2 = 0.25,
            .temperature_k = 335,
            .convection_w_k = 0.25 * 7,
            .emissivity = 0.9,
            .sees_fire = 0.1,
            .sees_wall = 0.75,
            .sees_open = 0.05};
}

double rest_j(const CookerState& state) {
    const CookerHeat& heat = state.heat;
    return heat.released_j - heat.to_load_j - heat.through_wall_j - heat.with_gas_j - heat.by_openings_j;
}

TEST(Shell, OfARoundCookerHasItsWalls) {
    const CookerShell cooker = shell(WallKind::steel);
    EXPECT_NEAR(cooker.area_m2, std::numbers::pi * 0.25, 1e-3);
    EXPECT_NEAR(cooker.lid_opening_m2, std::numbers::pi * 0.0625, 1e-6);
    EXPECT_NEAR(cooker.fire_m2, 0.09, 1e-12);
}

TEST(Shell, HasTheFiresAreaFromAbove) {
    // A bed of 0.2 m by 0.3 m as a mesh, a ring of coals between 0.1 and 0.2 m, a bed without end.
    const auto mesh = std::make_shared<const TriangleMesh>(test::box_mesh(Vec3(0, 0, 0), Vec3(.2, .3, .1)));
    const auto area = [](SurfaceShape fire) {
        return shell_of(test::scene({}, {test::surface("coals", std::move(fire), true)}).cooker, ambient_k)
            .fire_m2;
    };
    EXPECT_NEAR(area(MeshShape{mesh}), 0.06, 1e-12);
    EXPECT_NEAR(area(RevolvedShape{Vec3::Zero(), {{0.1, 0.0}, {0.2, 0.05}}}), std::numbers::pi * 0.03, 1e-12);
    EXPECT_EQ(area(PlaneShape{Vec3::Zero(), Vec3::UnitZ()}), 1);
    EXPECT_TRUE(is_oven(shell_of({}, ambient_k)));
}

TEST(CookerAir, ClosesItsBalance) {
    for (const WallKind wall :
         {WallKind::ceramic, WallKind::insulating_brick, WallKind::steel, WallKind::insulated_steel}) {
        const CookerShell cooker = shell(wall);
        CookerState state = burning(cooker, FuelKind::lump_charcoal, 1);
        state = later(cooker, state, {}, {.hold_k = 450}, false, 1800);
        for (int k = 0; k < 30; ++k)
            state = later(cooker, state, wet_skin(), {.burnt_kg_s = 4e-5}, k % 10 == 9, 45);
        state = later(cooker, state, wet_skin(), {}, false, 4 * test::hour_s);
        EXPECT_NEAR(rest_j(state), held_j(cooker, state), 1e-9 * state.heat.released_j);
        EXPECT_GT(state.heat.released_j, 1e7);
        EXPECT_GT(state.heat.to_load_j, 0);
        EXPECT_GT(state.heat.by_openings_j, 0);
        EXPECT_NEAR(state.time_s, 1800 + 30 * 45 + 4 * test::hour_s, 1e-6);
    }
}

// Heat from still air through bare steel, with the outer face at 99, 127, 153 and 177 °C: 1.0, 1.5, 1.9 and
// 2.5 kW/m2, computed from correlations for plates.
TEST(CookerAir, LosesThroughItsWallWhatPlatesDo) {
    const CookerShell cooker = shell(WallKind::steel);
    for (const auto& [face_c, flux_w_m2] : {std::pair{99.0, 1000.0}, {127, 1500}, {153, 1900}, {177, 2500}}) {
        double least = 2e-6, most = 1e-3;
        CookerState there;
        for (int k = 0; k < 30; ++k) {
            const double middle = (least + most) / 2;
            there = later(cooker, burning(cooker), {}, {.burnt_kg_s = middle}, false, 3 * test::hour_s);
            (there.outside_k < face_c + 273.15 ? least : most) = middle;
        }
        const double before = there.heat.through_wall_j;
        there = later(cooker, there, {}, {.burnt_kg_s = there.burnt_kg_s}, false, 600);
        EXPECT_NEAR((there.heat.through_wall_j - before) / 600 / cooker.area_m2, flux_w_m2, 0.12 * flux_w_m2)
            << face_c;
    }
}

// After many hours what is released leaves by walls, gas and slots, and walls are as far apart as their
// thickness makes them: q = k ΔT / d.
TEST(CookerAir, SettlesWhereLossesMatchTheFire) {
    const CookerShell cooker = shell(WallKind::ceramic);
    CookerState state = later(cooker, burning(cooker), {}, {.burnt_kg_s = 3e-5}, false, 40 * test::hour_s);
    const CookerState next = later(cooker, state, {}, {.burnt_kg_s = 3e-5}, false, 600);
    EXPECT_NEAR(next.air_k, state.air_k, 1e-6);
    const double wall_w = (next.heat.through_wall_j - state.heat.through_wall_j) / 600;
    const double gas_w = (next.heat.with_gas_j - state.heat.with_gas_j) / 600;
    const double slots_w = (next.heat.by_openings_j - state.heat.by_openings_j) / 600;
    EXPECT_NEAR(wall_w + gas_w + slots_w, next.bed.released_w, 1e-6 * next.bed.released_w);
    EXPECT_NEAR(wall_w,
                cooker.wall.conductivity_w_m_k / cooker.wall.thickness_m * cooker.area_m2 *
                    (next.inside_k - next.outside_k),
                1e-4 * wall_w);
}

// A wall with next to no resistance of its own and one cooling law warms as 1 − exp(−t/τ): compare the time
// to half way with that of a wall twice as heavy.
TEST(CookerAir, WarmsTwiceAsSlowlyBehindTwiceTheWall) {
    CookerShell light = shell(WallKind::steel), heavy = light;
    heavy.wall.density_kg_m3 *= 2;
    const auto half_way_s = [](const CookerShell& cooker) {
        const double rest_k =
            later(cooker, burning(cooker), {}, {.burnt_kg_s = 3e-5}, false, 20 * test::hour_s).wall_k;
        CookerState state = burning(cooker);
        while (state.wall_k < (ambient_k + rest_k) / 2)
            state = later(cooker, state, {}, {.burnt_kg_s = 3e-5}, false, 2);
        return state.time_s;
    };
    EXPECT_NEAR(half_way_s(heavy) / half_way_s(light), 2, 0.1);
}

TEST(CookerAir, HardlyDependsOnTheLengthOfItsSteps) {
    const CookerShell cooker = shell(WallKind::ceramic);
    const auto after = [&](double step_s) {
        CookerState state = burning(cooker, FuelKind::lump_charcoal, 1.5);
        for (double t = 0; t < test::hour_s; t += step_s)
            state = later(cooker, state, wet_skin(), {.burnt_kg_s = 5e-5}, false, step_s);
        return state;
    };
    const CookerState fine = after(1), coarse = after(30);
    EXPECT_NEAR(coarse.air_k, fine.air_k, 0.3);
    EXPECT_NEAR(coarse.wall_k, fine.wall_k, 0.3);
    EXPECT_NEAR(coarse.heat.to_load_j, fine.heat.to_load_j, 0.005 * fine.heat.to_load_j);
}

TEST(CookerAir, IsHeldWhereTheFireIsStrongEnough) {
    const CookerShell cooker = shell(WallKind::ceramic);
    CookerState state =
        later(cooker, burning(cooker, FuelKind::lump_charcoal, 2), {}, {.hold_k = 450}, false, test::hour_s);
    EXPECT_NEAR(state.shown_k, 450, 1e-3);
    const double before = state.burnt_kg_s;
    state = later(cooker, state, wet_skin(), {.hold_k = 450}, false, 600);
    EXPECT_NEAR(state.shown_k, 450, 1e-3);
    EXPECT_GT(state.burnt_kg_s, before) << "a cold load asks for more";
    EXPECT_LT(
        later(cooker, burning(cooker, FuelKind::lump_charcoal, 0.1), {}, {.hold_k = 700}, false, test::hour_s)
            .air_k,
        600);
}

// By hand: a rod of 6 mm in air at 430 K that moves at 0.2 m/s has about 21 W/(m2 K) by convection and, among
// walls at 370 K, about 0.8 × 4 σ (390 K)³ = 10.8 by radiation: it shows a third of the difference less.
TEST(Thermometer, ShowsLessThanTheAirHasAmongCoolerWalls) {
    EXPECT_NEAR(thermometer_k(430, 370), 430 - 60 * 10.8 / (10.8 + 21), 3);
    EXPECT_NEAR(thermometer_k(430, 430), 430, 1e-9);
    EXPECT_GT(thermometer_k(430, 450), 430);
    // It is at rest: what it takes from the air it gives to the walls.
    const double shown = thermometer_k(450, 380);
    const double taken =
        convection_coefficient_w_m2_k({0.1, 0.006}, shown, {450, usual_air_speed_m_s, 0}) * (450 - shown);
    EXPECT_NEAR(0.8 * (black_power_w_m2(shown) - black_power_w_m2(380)), taken, 0.005 * taken);
}

TEST(CookerAir, FallsWhenTheLidComesOffAndIsBackSoon) {
    const CookerShell cooker = shell(WallKind::ceramic);
    CookerState state = later(cooker, burning(cooker), {}, {.hold_k = 440}, false, 2 * test::hour_s);
    const double walls = state.inside_k;
    state = later(cooker, state, {}, {.burnt_kg_s = state.burnt_kg_s}, true, 30);
    EXPECT_LT(state.air_k, 380);
    EXPECT_GT(state.inside_k, walls - 25) << "walls keep their heat";
    state = later(cooker, state, {}, {.burnt_kg_s = state.burnt_kg_s}, false, 300);
    EXPECT_GT(state.air_k, 425);
}

TEST(CookerAir, OfADyingFireFallsAfterIt) {
    const CookerShell cooker = shell(WallKind::steel);
    CookerState state = burning(cooker, FuelKind::lump_charcoal, 1.2);
    state = later(cooker, state, {}, {}, false, 900);
    double air = state.air_k, fire = state.bed.released_w;
    for (int k = 0; k < 18; ++k) {
        state = later(cooker, state, {}, {}, false, 900);
        EXPECT_LT(state.air_k, air);
        EXPECT_LT(state.bed.released_w, fire);
        air = state.air_k;
        fire = state.bed.released_w;
    }
    EXPECT_LT(air, 420);
    EXPECT_GT(air, ambient_k + 5) << "embers still warm it";
}

TEST(CookerAir, CannotBeChokedThroughItsSlots) {
    CookerShell cooker = shell(WallKind::ceramic);
    CookerState state =
        later(cooker, burning(cooker, FuelKind::lump_charcoal, 2), {}, {.hold_k = 450}, false, test::hour_s);
    const double least = least_burnt_kg_s(cooker, state);
    EXPECT_GT(least, 0);
    state = later(cooker, state, {}, {.burnt_kg_s = 0}, false, 10);
    EXPECT_NEAR(state.burnt_kg_s, least, 0.05 * least);
    cooker.slots_m2 = 0;
    EXPECT_EQ(least_burnt_kg_s(cooker, state), 0);
    state = later(cooker, state, {}, {.burnt_kg_s = 0}, false, 600);
    EXPECT_EQ(state.burnt_kg_s, 0) << "without slots it goes out";
}

TEST(CookerAir, InTheOpenIsTheWeathers) {
    CookerShell pit;
    pit.ambient_k = 285;
    pit.fire_m2 = 0.1;
    CookerState state = burning(pit, FuelKind::wood, 5);
    state = later(pit, state, wet_skin(), {}, false, test::hour_s);
    EXPECT_EQ(state.air_k, 285);
    EXPECT_GT(state.heat.to_load_j, 0) << "the fire shines on it";
    EXPECT_NEAR(rest_j(state), 0, 1e-9 * state.heat.released_j);
}

TEST(Basting, OpensTheLidAsOftenAsToldFromTheFirstTimeOn) {
    const Basting usual = usual_basting(3 * test::hour_s);
    EXPECT_FALSE(lid_is_open(usual, 0));
    EXPECT_FALSE(lid_is_open(usual, 1.5 * test::hour_s - 1));
    EXPECT_TRUE(lid_is_open(usual, 1.5 * test::hour_s));
    EXPECT_TRUE(lid_is_open(usual, 1.5 * test::hour_s + 29));
    EXPECT_FALSE(lid_is_open(usual, 1.5 * test::hour_s + 31));
    EXPECT_TRUE(lid_is_open(usual, 1.5 * test::hour_s + 20 * 60 + 5));
    EXPECT_FALSE(lid_is_open({}, 0)) << "never";
}

}  // namespace
}  // namespace evenspit
