// SPDX-License-Identifier: MIT
#include "body/composition.h"

#include <array>
#include <cmath>
#include <stdexcept>
#include <string>

namespace evenspit::body {
namespace {

// ρ = a + b·T + c·T², kg/m3, T in °C: Choi & Okos (1986), as reprinted in the ASHRAE Handbook, Refrigeration,
// chapter "Thermal properties of foods".
struct DensityLine {
    double a, b, c;
    [[nodiscard]] double at(double t) const { return a + t * (b + t * c); }
};
constexpr DensityLine water_density{997.18, 3.1439e-3, -3.7574e-3};
constexpr DensityLine protein_density{1329.9, -0.51840, 0};
constexpr DensityLine fat_density{925.59, -0.41757, 0};
constexpr DensityLine carbohydrate_density{1599.1, -0.31046, 0};
constexpr DensityLine fibre_density{1311.5, -0.36589, 0};
constexpr DensityLine ash_density{2423.8, -0.28063, 0};

constexpr Composition meat(double water, double protein, double fat, double ash) {
    return {.water = water / 100, .protein = protein / 100, .fat = fat / 100, .ash = ash / 100};
}

}  // namespace

double composition_density(const Composition& composition, double temperature_celsius) {
    if (!(temperature_celsius >= -40 && temperature_celsius <= 150)) {
        throw std::invalid_argument("density by composition holds from -40 to 150 degC");
    }
    const std::array<std::pair<double, DensityLine>, 6> shares{
        {{composition.water, water_density},
         {composition.protein, protein_density},
         {composition.fat, fat_density},
         {composition.carbohydrate, carbohydrate_density},
         {composition.fibre, fibre_density},
         {composition.ash, ash_density}}};
    double sum = 0;
    double volume = 0;
    for (const auto& [fraction, line] : shares) {
        if (!(fraction >= 0)) throw std::invalid_argument("a mass fraction is negative");
        sum += fraction;
        volume += fraction / line.at(temperature_celsius);
    }
    if (std::abs(sum - 1) > 0.02) throw std::invalid_argument("mass fractions do not sum to 1");
    return sum / volume;
}

Composition without(const Composition& whole, const Composition& part, double share) {
    const auto left = [share](double of_whole, double of_part) {
        return (of_whole - share * of_part) / (1 - share);
    };
    return {.water = left(whole.water, part.water),
            .protein = left(whole.protein, part.protein),
            .fat = left(whole.fat, part.fat),
            .carbohydrate = left(whole.carbohydrate, part.carbohydrate),
            .fibre = left(whole.fibre, part.fibre),
            .ash = left(whole.ash, part.ash)};
}

// The lean of turkeys (05167), chicken (light and dark), duck, goose, guinea hen and quail was read in an
// earlier release, where the foods that this one shares with it are mostly the same.
const std::vector<RawFood>& raw_foods() {
    static const std::vector<RawFood> foods{
        {"turkey, whole, meat and skin", "05165", meat(72.69, 21.64, 5.64, 0.98), 0.29},
        {"turkey, breast meat", "05219", meat(74.89, 23.66, 1.48, 1.04), 0.12},
        {"turkey, meat only", "05167", meat(74.16, 21.77, 2.86, 0.97), 0.41},
        {"turkey, skin", "05169", meat(48.38, 12.96, 38.93, 0.52), 0},
        {"chicken, broiler, meat and skin", "05006", meat(65.99, 18.60, 15.06, 0.79), 0.32},
        {"chicken, broiler, skin", "05015", meat(54.22, 13.33, 32.35, 0.41), 0},
        {"chicken, broiler, light meat", "05039", meat(74.86, 23.20, 1.65, 0.98), 0.45},
        {"chicken, broiler, dark meat", "05043", meat(75.99, 20.08, 4.31, 0.94), 0.56},
        {"duck, meat and skin", "05139", meat(48.50, 11.49, 39.34, 0.68), 0.28},
        {"duck, meat only", "05141", meat(73.77, 18.28, 5.95, 1.06), 0.66},
        {"goose, meat and skin", "05146", meat(49.66, 15.86, 33.62, 0.87), 0.19},
        {"goose, meat only", "05148", meat(68.30, 22.75, 7.13, 1.10), 0.53},
        {"guinea hen, meat only", "05152", meat(74.44, 20.64, 2.47, 1.25), 0.36},
        {"quail, breast meat", "05159", meat(71.67, 22.59, 2.99, 1.27), 0},
        {"pork shoulder, whole", "10070", meat(64.02, 17.18, 17.99, 0.88), 0.25},
        {"lamb leg", "17011", meat(64.32, 17.91, 17.07, 0.94), 0.21},
        {"beef rib, small end and large end", "13827", meat(53.85, 16.34, 27.93, 0.77), 0.17},
    };
    return foods;
}

const RawFood& raw_food(std::string_view ndb) {
    for (const RawFood& food : raw_foods()) {
        if (food.ndb == ndb) return food;
    }
    throw std::out_of_range("no food numbered " + std::string(ndb));
}

}  // namespace evenspit::body
