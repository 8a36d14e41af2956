// SPDX-License-Identifier: MIT
#include "roast/fuel.h"

#include <cmath>
#include <filesystem>
#include <stdexcept>

#include <gtest/gtest.h>

#include "scenes.h"

namespace evenspit {
namespace {

// As large as the upright ceramic cooker of the models: 1 m2 of wall, a bed of 0.3 m by 0.3 m.
CookerShell cooker(WallKind wall) {
    CookerShell shell;
    shell.area_m2 = 0.98;
    shell.wall = cooker_wall(wall);
    shell.lid_opening_m2 = 0.2;
    shell.slots_m2 = 2 * 0.025 * 0.040;
    shell.slot_height_m = 0.040;
    shell.fire_m2 = 0.09;
    return shell;
}

// 13 lb: 1.4 MJ to warm it by 68 K and 2.5 MJ to dry off the 1.1 kg of water in a loss of 24 %.
FuelNeed turkey() {
    return {.fuel = FuelKind::lump_charcoal,
            .held_k = 422,
            .preheated_k = 450,
            .cook_s = 3 * test::hour_s,
            .to_load_j = 3.9e6,
            .load_from_m = 0.2,
            .load_to_m = 0.52,
            .given_kg = {},
            .taken_share = 0};
}

TEST(Fuel, OfATurkeyIsWhatCooksLay) {
    const FuelPlan plan = plan_fuel(cooker(WallKind::ceramic), turkey());
    // Common practice, no source: about a kilogram of lump, lit an hour before.
    EXPECT_GT(plan.laid_kg, 0.6);
    EXPECT_LT(plan.laid_kg, 1.8);
    EXPECT_GT(plan.lit_before_s, 0.75 * test::hour_s);
    EXPECT_LT(plan.lit_before_s, 1.5 * test::hour_s);
    EXPECT_TRUE(plan.enough_bed);
    EXPECT_LT(plan.burnt_kg, plan.laid_kg);
    EXPECT_NEAR(plan.bank_from_m + plan.bank_to_m, 0.72, 1e-9);
    EXPECT_LE(plan.bank_to_m - plan.bank_from_m, 0.32 + 1e-9);
    EXPECT_NEAR((plan.bank_to_m - plan.bank_from_m) * plan.bank_width_m,
                pile_area_m2(FuelKind::lump_charcoal, plan.laid_kg, pile_depth_m), 1e-9);
}

TEST(Fuel, IsAccountedFor) {
    const FuelPlan plan = plan_fuel(cooker(WallKind::ceramic), turkey());
    const FuelProperties lump = fuel_properties(FuelKind::lump_charcoal);
    EXPECT_NEAR(plan.released_j, plan.burnt_kg * lump.heating_value_j_kg * lump.burnt_share,
                1e-6 * plan.released_j);
    EXPECT_NEAR(plan.to_load_w * turkey().cook_s, turkey().to_load_j, 0.01 * turkey().to_load_j);
    // What is released while the load is in goes through walls, out with gas, out by slots, into the load,
    // and into walls that still warm up: a tenth or so.
    const double told = plan.through_wall_w + plan.with_gas_w + plan.by_openings_w + plan.to_load_w;
    EXPECT_NEAR(told, plan.need_w, 0.2 * plan.need_w);
    EXPECT_LT(told, plan.need_w);
}

// What is laid lasts, and a tenth less does not: it is fading when the load is done.
TEST(Fuel, IsFadingWhenTheLoadIsDone) {
    const CookerShell shell = cooker(WallKind::steel);
    FuelNeed need = turkey();
    const FuelPlan plan = plan_fuel(shell, need);
    const auto shown_at_the_end = [&](double mass_kg) {
        Fire fire = lit_fire(need.fuel, mass_kg, pile_area_m2(need.fuel, mass_kg, pile_depth_m));
        while (fire.since_lit_s < fuel_properties(need.fuel).lighting_s)
            fire = burnt_down(fire, most_burnt_kg_s(fire), 60);
        CookerState state =
            later(shell, cold_cooker(shell, fire), {}, {.hold_k = need.preheated_k}, false, plan.preheat_s);
        const LoadSkin load{.drawn_w = need.to_load_j / need.cook_s};
        return later(shell, state, load, {.hold_k = need.held_k}, false, need.cook_s).shown_k;
    };
    EXPECT_GT(shown_at_the_end(plan.laid_kg), need.held_k - 1.5);
    EXPECT_LT(shown_at_the_end(0.9 * plan.laid_kg), need.held_k - 1.5);
}

TEST(Fuel, GrowsWithTheCookAndShrinksBehindBetterWalls) {
    const double usual = plan_fuel(cooker(WallKind::ceramic), turkey()).laid_kg;
    FuelNeed longer = turkey();
    longer.cook_s *= 2;
    longer.to_load_j *= 1.5;
    EXPECT_GT(plan_fuel(cooker(WallKind::ceramic), longer).laid_kg, 1.3 * usual);
    EXPECT_LT(plan_fuel(cooker(WallKind::insulating_brick), turkey()).laid_kg, usual);
    EXPECT_GT(plan_fuel(cooker(WallKind::steel), turkey()).need_w,
              plan_fuel(cooker(WallKind::insulated_steel), turkey()).need_w);
    FuelNeed briquettes = turkey();
    briquettes.fuel = FuelKind::briquettes;
    EXPECT_GT(plan_fuel(cooker(WallKind::ceramic), briquettes).laid_kg, usual) << "they hold less heat";
}

TEST(Fuel, TooMuchIsToldAndSoIsWhatSlotsKeepBurning) {
    FuelNeed need = turkey();
    need.given_kg = 5;
    CookerShell tight = cooker(WallKind::insulated_steel);
    const FuelPlan plan = plan_fuel(tight, need);
    EXPECT_NEAR(plan.too_much_kg, 5 - plan.laid_kg, 1e-12);
    EXPECT_GT(plan.least_w, 50);
    EXPECT_LT(plan.least_w, 1000);
    CookerShell slotted = tight;
    slotted.slots_m2 *= 6;
    const FuelPlan wild = plan_fuel(slotted, need);
    EXPECT_GT(wild.cannot_hold_by_k, 20) << "it cannot be choked";
    CookerShell closed = tight;
    closed.slots_m2 = 0;
    EXPECT_EQ(plan_fuel(closed, need).cannot_hold_by_k, 0);
    need.given_kg = 0.2;
    EXPECT_LT(plan_fuel(tight, need).too_much_kg, 0);
}

TEST(Fuel, OfGasIsWhatBurnsTillTheEnd) {
    FuelNeed need = turkey();
    need.fuel = FuelKind::gas;
    const FuelPlan plan = plan_fuel(cooker(WallKind::steel), need);
    EXPECT_EQ(plan.laid_kg, 0);
    EXPECT_GT(plan.burnt_kg, 0.1);
    EXPECT_LT(plan.burnt_kg, 2);
}

// In the open: what is burnt while the load is on gives it its heat, and the law of the pile says what is
// left: m = m₀ (1 − r t / 3 m₀)³ after it is lit through.
TEST(Fuel, InTheOpenIsWhatTheLoadsShareAsksFor) {
    FuelNeed need = turkey();
    need.taken_share = 0.05;
    CookerShell pit;
    pit.fire_m2 = 0.5;
    const FuelPlan plan = plan_fuel(pit, need);
    const FuelProperties lump = fuel_properties(need.fuel);
    EXPECT_NEAR(plan.need_w * need.cook_s * 0.05, need.to_load_j, 1e-6 * need.to_load_j);
    EXPECT_NEAR(plan.to_load_w + plan.by_openings_w, plan.need_w, 1e-9);
    EXPECT_TRUE(plan.enough_bed);
    Fire fire = lit_fire(need.fuel, plan.laid_kg, pile_area_m2(need.fuel, plan.laid_kg, pile_depth_m));
    fire.since_lit_s = lump.lighting_s;
    const double rate = most_burnt_kg_s(fire) / plan.laid_kg;
    // Lighting burns as much as half its time would.
    const double lit = std::pow(1 - rate * lump.lighting_s / 6, 3);
    const double end = std::pow(1 - rate * (lump.lighting_s / 2 + need.cook_s) / 3, 3);
    const double burnt = need.to_load_j / 0.05 / (lump.heating_value_j_kg * lump.burnt_share);
    EXPECT_NEAR(plan.laid_kg * (lit - end), burnt, 0.01 * burnt);
}

TEST(Fuel, RefusesACookOfNothing) {
    FuelNeed need = turkey();
    EXPECT_THROW((void)plan_fuel({}, need), std::invalid_argument);
    need.cook_s = 0;
    EXPECT_THROW((void)plan_fuel(cooker(WallKind::steel), need), std::invalid_argument);
    need = turkey();
    CookerShell oven = cooker(WallKind::insulated_steel);
    oven.fire_m2 = 0;
    EXPECT_THROW((void)plan_fuel(oven, need), std::invalid_argument);
    need.held_k = 280;
    EXPECT_THROW((void)plan_fuel(cooker(WallKind::steel), need), std::invalid_argument);
}

}  // namespace
}  // namespace evenspit
