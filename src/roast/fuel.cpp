// SPDX-License-Identifier: MIT
#include "roast/fuel.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace evenspit {
namespace {

constexpr double step_s = 60;
constexpr double mass_found_to = 0.01;  // a share of it

// The air has been where it is to be for so long before the load goes in, so that walls have warmed a little
// way in too; and no cook waits longer for a cooker to get there. Common practice.
constexpr double settled_s = 30 * 60;
constexpr double longest_preheat_s = 3 * 3600;

// How far the air may fall short of what is held.
constexpr double short_by_k = 1;

// Wet skin dries at about this for most of a cook; only how the draw of heat bends with the air's
// temperature hangs on it.
constexpr double drying_skin_k = 341;

struct Run {
    bool reached = false;  // the cooker got as hot as it was to be before the load went in
    bool held = false;     // and stayed hot enough to the end
    double preheat_s = 0;
    double hotter_k = 0;  // than held, mean over the cook
    CookerState in{}, end{};
};

LoadSkin even_draw(const FuelNeed& need) {
    LoadSkin load;
    load.area_m2 = 1;
    load.temperature_k = std::min(drying_skin_k, need.held_k - 1);
    load.convection_w_k = need.to_load_j / need.cook_s / (need.held_k - load.temperature_k);
    return load;
}

Run run(const CookerShell& shell, const FuelNeed& need, const Fire& laid, bool vents_shut) {
    const FuelProperties fuel = fuel_properties(need.fuel);
    Run run;
    CookerState state = cold_cooker(shell, laid);
    // It is lit in a chimney outside, or with the lid off: the cooker stays cold.
    while (state.fire.since_lit_s < fuel.lighting_s) {
        const double burnt = most_burnt_kg_s(state.fire);
        state.fire = burnt_down(state.fire, burnt, step_s);
        state.heat.released_j += burnt * step_s * fuel.heating_value_j_kg * fuel.burnt_share;
    }
    state.heat.by_openings_j = state.heat.released_j;
    const double preheated_k = std::max(need.preheated_k, need.held_k);
    double there_s = 0;
    while (there_s < settled_s && run.preheat_s < longest_preheat_s) {
        state = later(shell, state, {}, {.hold_air_k = preheated_k}, false, step_s);
        run.preheat_s += step_s;
        there_s = state.air_k > preheated_k - short_by_k ? there_s + step_s : 0;
    }
    run.reached = there_s >= settled_s;
    run.in = state;
    const LoadSkin load = even_draw(need);
    Draught draught{.hold_air_k = need.held_k};
    if (vents_shut) draught = {.burnt_kg_s = 0};
    for (double t = 0; t < need.cook_s; t += step_s) {
        state = later(shell, state, load, draught, false, step_s);
        run.hotter_k += (state.air_k - need.held_k) * step_s / need.cook_s;
    }
    run.held = state.air_k > need.held_k - short_by_k;
    run.end = state;
    return run;
}

Fire pile(const FuelNeed& need, double mass_kg) {
    return lit_fire(need.fuel, mass_kg, pile_area_m2(need.fuel, mass_kg, pile_depth_m));
}

// The least pile that lasts.
double least_pile_kg(const CookerShell& shell, const FuelNeed& need) {
    const auto lasts = [&](double mass_kg) {
        const Run once = run(shell, need, pile(need, mass_kg), false);
        return once.reached && once.held;
    };
    double high = 0.25;
    while (!lasts(high) && high < 1000) high *= 2;
    double low = high / 2;
    while (high - low > mass_found_to * high) {
        const double middle = (low + high) / 2;
        (lasts(middle) ? high : low) = middle;
    }
    return high;
}

void check(const CookerShell& shell, const FuelNeed& need) {
    const bool positive =
        shell.area_m2 > 0 && need.cook_s > 0 && need.to_load_j >= 0 && need.held_k > shell.ambient_k;
    if (!positive)
        throw std::invalid_argument("plan_fuel: no cooker, no time to cook, or no hotter than the weather");
}

}  // namespace

FuelPlan plan_fuel(const CookerShell& shell, const FuelNeed& need) {
    check(shell, need);
    const FuelProperties fuel = fuel_properties(need.fuel);
    FuelPlan plan;
    Fire fire = lit_fire(FuelKind::gas, 0, shell.fire_m2);
    if (need.fuel != FuelKind::gas) {
        plan.laid_kg = least_pile_kg(shell, need);
        fire = pile(need, plan.laid_kg);
    }
    const Run cook = run(shell, need, fire, false);
    const CookerHeat &before = cook.in.heat, &after = cook.end.heat;
    plan.released_j = after.released_j;
    plan.burnt_kg = after.released_j / (fuel.heating_value_j_kg * fuel.burnt_share);
    plan.preheat_s = cook.preheat_s;
    plan.lit_before_s = fuel.lighting_s + cook.preheat_s;
    plan.need_w = (after.released_j - before.released_j) / need.cook_s;
    plan.through_wall_w = (after.through_wall_j - before.through_wall_j) / need.cook_s;
    plan.with_gas_w = (after.with_gas_j - before.with_gas_j) / need.cook_s;
    plan.by_openings_w = (after.by_openings_j - before.by_openings_j) / need.cook_s;
    plan.to_load_w = (after.to_load_j - before.to_load_j) / need.cook_s;
    plan.least_w = least_burnt_kg_s(shell, cook.in) * fuel.heating_value_j_kg * fuel.burnt_share;

    // Along the load as far as it reaches, no narrower than it is deep.
    const double load_m = need.load_to_m - need.load_from_m;
    const double length = std::min(load_m, fire.bed_m2 / pile_depth_m);
    if (length > 0) {
        const double middle = (need.load_from_m + need.load_to_m) / 2;
        plan.bank_from_m = middle - length / 2;
        plan.bank_to_m = middle + length / 2;
        plan.bank_width_m = fire.bed_m2 / length;
    }
    plan.enough_bed = fire.bed_m2 <= shell.fire_m2;
    if (need.given_kg && need.fuel != FuelKind::gas) {
        plan.too_much_kg = *need.given_kg - plan.laid_kg;
        plan.cannot_hold_by_k = std::max(0.0, run(shell, need, pile(need, *need.given_kg), true).hotter_k);
    }
    return plan;
}

}  // namespace evenspit
