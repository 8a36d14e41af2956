// SPDX-License-Identifier: MIT
#include "roast/fuel.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace evenspit {
namespace {

constexpr double step_s = 60;
constexpr double mass_found_to = 0.01;  // a share of it

// How far the thermometer may fall short of what is to be held.
constexpr double still_held_within_k = 1;

struct Run {
    bool reached = false;  // the cooker got as hot as it was to be before the load went in
    bool held = false;     // and stayed hot enough to the end
    double preheat_s = 0;
    CookerState in{}, end{};
    double hotter_k = 0;  // than held, mean over the cook
};

Fire pile(const FuelNeed& need, double mass_kg) {
    return lit_fire(need.fuel, mass_kg, pile_area_m2(need.fuel, mass_kg, pile_depth_m));
}

Fire fire_of(const CookerShell& shell, const FuelNeed& need, double mass_kg) {
    return need.fuel == FuelKind::gas ? lit_fire(need.fuel, 0, shell.fire_m2) : pile(need, mass_kg);
}

Run run(const CookerShell& shell, const FuelNeed& need, const Fire& laid, bool vents_shut) {
    const PreheatedCooker in = preheated_cooker(shell, laid, std::max(need.preheated_k, need.held_k));
    Run run{.reached = in.reached, .preheat_s = in.preheat_s, .in = in.state};
    CookerState state = in.state;
    const LoadSkin load{.drawn_w = need.to_load_j / need.cook_s};
    Draught draught{.hold_k = need.held_k};
    if (vents_shut) draught = {.burnt_kg_s = 0};
    for (double t = 0; t < need.cook_s; t += step_s) {
        state = later(shell, state, load, draught, false, step_s);
        run.hotter_k += (state.shown_k - need.held_k) * step_s / need.cook_s;
    }
    run.held = state.shown_k > need.held_k - still_held_within_k;
    run.end = state;
    return run;
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
    const bool hot = shell.area_m2 > 0 ? need.held_k > shell.ambient_k : need.taken_share > 0;
    if (!(hot && !is_oven(shell) && need.cook_s > 0 && need.to_load_j >= 0))
        throw std::invalid_argument("plan_fuel: no time to cook, or no fire that heats the load");
}

// What a fire that is lit through burns in the open while the load is on, kg.
double burnt_in_the_open_kg(Fire fire, double cook_s) {
    const double before = fire.left_kg;
    for (double t = 0; t < cook_s; t += step_s)
        fire = burnt_down(fire, most_burnt_kg_s(fire), std::min(step_s, cook_s - t));
    return before - fire.left_kg;
}

// All that does not hang on walls.
FuelPlan plan_in_the_open(const FuelNeed& need) {
    const FuelProperties fuel = fuel_properties(need.fuel);
    FuelPlan plan;
    const double set_free_j_kg = fuel.heating_value_j_kg * fuel.burnt_share;
    const double burnt_kg = need.to_load_j / need.taken_share / set_free_j_kg;
    plan.burnt_kg = burnt_kg;
    if (need.fuel != FuelKind::gas) {
        // A pile of twice the mass burns twice as fast at every moment: its share burnt is the same.
        const Fire one = lit_through(pile(need, 1));
        plan.laid_kg = burnt_kg / burnt_in_the_open_kg(one, need.cook_s);
        plan.burnt_kg += plan.laid_kg * (1 - one.left_kg);
        if (need.given_kg) plan.too_much_kg = *need.given_kg - plan.laid_kg;
    }
    plan.released_j = plan.burnt_kg * set_free_j_kg;
    plan.lit_before_s = fuel.lighting_s;
    plan.need_w = burnt_kg * set_free_j_kg / need.cook_s;
    plan.to_load_w = need.to_load_j / need.cook_s;
    plan.by_openings_w = plan.need_w - plan.to_load_w;
    return plan;
}

FuelPlan plan_in_the_cooker(const CookerShell& shell, const FuelNeed& need) {
    const FuelProperties fuel = fuel_properties(need.fuel);
    FuelPlan plan;
    if (need.fuel != FuelKind::gas) plan.laid_kg = least_pile_kg(shell, need);
    const Run cook = run(shell, need, fire_of(shell, need, plan.laid_kg), false);
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
    if (need.fuel == FuelKind::gas) return plan;
    plan.least_w = least_burnt_kg_s(shell, cook.in) * fuel.heating_value_j_kg * fuel.burnt_share;
    if (need.given_kg) {
        plan.too_much_kg = *need.given_kg - plan.laid_kg;
        plan.cannot_hold_by_k = std::max(0.0, run(shell, need, pile(need, *need.given_kg), true).hotter_k);
    }
    return plan;
}

// Along the load as far as it reaches, no narrower than it is deep.
void lay_bank(FuelPlan& plan, const FuelNeed& need, double bed_m2) {
    const double load_m = need.load_to_m - need.load_from_m;
    const double length = std::min(load_m, bed_m2 / pile_depth_m);
    if (!(length > 0)) return;
    const double middle = (need.load_from_m + need.load_to_m) / 2;
    plan.bank_from_m = middle - length / 2;
    plan.bank_to_m = middle + length / 2;
    plan.bank_width_m = bed_m2 / length;
}

}  // namespace

FuelPlan plan_fuel(const CookerShell& shell, const FuelNeed& need) {
    check(shell, need);
    FuelPlan plan = shell.area_m2 > 0 ? plan_in_the_cooker(shell, need) : plan_in_the_open(need);
    const double bed_m2 = fire_of(shell, need, plan.laid_kg).bed_m2;
    plan.enough_bed = bed_m2 <= shell.fire_m2;
    lay_bank(plan, need, bed_m2);
    return plan;
}

}  // namespace evenspit
