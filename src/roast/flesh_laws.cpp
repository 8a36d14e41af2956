// SPDX-License-Identifier: MIT
#include "roast/flesh_laws.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "units/unit_table.h"

namespace evenspit {
namespace {

using unit_factors::celsius_zero_k;

constexpr double raw_held = 0.745;  // what the law gives far below 52 °C

double capacity(double celsius) {
    return raw_held - 0.345 / (1 + 30 * std::exp(-0.25 * (celsius - 52)));
}

double rise(double value, double from, double to) {
    return std::clamp((value - from) / (to - from), 0.0, 1.0);
}

}  // namespace

double water_held(double temperature_k) {
    return capacity(temperature_k - celsius_zero_k) / raw_held;
}

double fat_rendered(double hottest_k) {
    constexpr double melts_c = 32, done_c = 80, in_all = 0.6;
    return in_all * rise(hottest_k - celsius_zero_k, melts_c, done_c);
}

double strength_left(double raw_pa, double cooked_pa, double hottest_k, double above_80_c_s) {
    constexpr double sets_c = 53, set_c = 80, across_fibres_pa = 25e3, dissolves_s = 3 * 3600;
    const double done = rise(hottest_k - celsius_zero_k, sets_c, set_c);
    const double roasted = raw_pa + done * (cooked_pa - raw_pa);
    const double dissolved = 1 - std::exp(-above_80_c_s / dissolves_s);
    const double end_pa = std::min(across_fibres_pa, cooked_pa);
    return (roasted + dissolved * (end_pa - cooked_pa)) / raw_pa;
}

double water_reaching_surface_kg_m2s(double water_kg_m3, double since_s) {
    constexpr double diffusivity_m2_s = 4e-10;
    return water_kg_m3 * std::sqrt(diffusivity_m2_s / (std::numbers::pi * since_s));
}

}  // namespace evenspit
