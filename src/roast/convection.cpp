// SPDX-License-Identifier: MIT
#include "roast/convection.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "roast/convection_air.h"
#include "units/standard_gravity.h"

namespace evenspit {
namespace {

constexpr double discharge = 0.6;  // of a sharp-edged opening; from memory

double fourth_power(double value) {
    return value * value * value * value;
}

double rayleigh(const AirProperties& film, double film_k, double difference_k, double diameter_m) {
    const double viscosity = film.kinematic_viscosity_m2_s();
    return standard_gravity / film_k * difference_k * std::pow(diameter_m, 3) * film.prandtl() /
           (viscosity * viscosity);
}

}  // namespace

double nusselt_of_still_cylinder(double rayleigh, double prandtl) {
    const double shape = std::pow(1 + std::pow(0.559 / prandtl, 9. / 16), 8. / 27);
    return std::pow(0.60 + 0.387 * std::pow(rayleigh, 1. / 6) / shape, 2);
}

double nusselt_of_still_sphere(double rayleigh, double prandtl) {
    const double shape = 1 + std::pow(0.469 / prandtl, 9. / 16);
    return 2 + 0.589 * std::pow(rayleigh, 0.25) / std::pow(shape, 4. / 9) *
                   std::pow(1 + 7.44e-8 * rayleigh / std::pow(shape, 16. / 9), 1. / 12);
}

double nusselt_of_cylinder_in_flow(double reynolds, double prandtl) {
    const double shape = std::pow(1 + std::pow(0.4 / prandtl, 2. / 3), 0.25);
    return 0.3 + 0.62 * std::sqrt(reynolds) * std::cbrt(prandtl) / shape *
                     std::pow(1 + std::pow(reynolds / 282000, 5. / 8), 4. / 5);
}

double nusselt_of_sphere_in_flow(double reynolds, double prandtl) {
    return 2 + (0.4 * std::sqrt(reynolds) + 0.06 * std::pow(reynolds, 2. / 3)) * std::pow(prandtl, 0.4);
}

double nusselt_of_turning_cylinder(double reynolds) {
    return 0.1 * std::pow(reynolds, 2. / 3);
}

double mixed_nusselt(double first, double second, double third) {
    return std::pow(fourth_power(first) + fourth_power(second) + fourth_power(third), 0.25);
}

ConvectionSize convection_size(const Assembly& assembly, const SkinPatches& skin, std::size_t item) {
    double low = std::numeric_limits<double>::infinity(), high = -low;
    const Item& one = assembly.items[item];
    for (const body::Part& part : one.body->body.parts) {
        if (!body::displaces(part)) continue;
        for (const Vec3& vertex : part.mesh.vertices) {
            const double x = (one.pose * vertex).x();
            low = std::min(low, x);
            high = std::max(high, x);
        }
    }
    const double length = high - low;
    return {length, skin.outer_area_m2(item) / (std::numbers::pi * length)};
}

double convection_coefficient_w_m2_k(const ConvectionSize& size, double skin_k, const AirFlow& flow) {
    const double film_k = (skin_k + flow.air_k) / 2, diameter = size.diameter_m;
    const AirProperties film = air_at(film_k);
    const double pr = film.prandtl(), viscosity = film.kinematic_viscosity_m2_s();
    const double ra = rayleigh(film, film_k, std::abs(flow.air_k - skin_k), diameter);
    const double re = std::abs(flow.speed_m_s) * diameter / viscosity;
    const double re_turning = std::abs(flow.turning_rad_s) * diameter / 2 * diameter / viscosity;
    const double turning = nusselt_of_turning_cylinder(re_turning);
    const double roundness = std::clamp(2 - size.length_m / diameter, 0.0, 1.0);
    double nusselt = 0;
    if (roundness < 1) {
        nusselt += (1 - roundness) * mixed_nusselt(nusselt_of_still_cylinder(ra, pr),
                                                   nusselt_of_cylinder_in_flow(re, pr), turning);
    }
    if (roundness > 0) {
        // Both have 2, what a sphere gives to air at rest by conduction: it counts once.
        nusselt += roundness * (2 + mixed_nusselt(nusselt_of_still_sphere(ra, pr) - 2,
                                                  nusselt_of_sphere_in_flow(re, pr) - 2, turning));
    }
    return nusselt * film.conductivity_w_m_k / diameter;
}

Hollow hollow_of(const SkinPatches& skin, const TurnViews& views, std::size_t item) {
    Hollow hollow;
    for (std::size_t k = 0; k < skin.patches.size(); ++k) {
        const SkinPatch& patch = skin.patches[k];
        if (patch.item != item || !patch.in_cavity) continue;
        hollow.wall_m2 += patch.area_m2;
        hollow.opening_m2 += patch.area_m2 * (1 - views.item(k, item));
    }
    return hollow;
}

double opening_exchange_w_k(double area_m2, double height_m, double inside_k, double outside_k) {
    const double mean_k = (inside_k + outside_k) / 2;
    const AirProperties air = air_at(mean_k);
    return air.density_kg_m3 * air.specific_heat_j_kg_k * discharge / 3 * area_m2 *
           std::sqrt(standard_gravity * height_m * std::abs(inside_k - outside_k) / mean_k);
}

double cavity_coefficient_w_m2_k(const Hollow& hollow, double skin_k, double air_k) {
    if (!(hollow.wall_m2 > 0 && hollow.opening_m2 > 0)) return 0;
    // The two resistances share the difference; half of it each is near enough, as both go with its root or
    // less.
    const double inside_k = (skin_k + air_k) / 2, film_k = (skin_k + inside_k) / 2;
    const AirProperties film = air_at(film_k);
    // A hollow of about the shape of a ball.
    const double diameter = std::sqrt(hollow.wall_m2 / std::numbers::pi);
    const double ra = rayleigh(film, film_k, std::abs(inside_k - skin_k), diameter);
    const double wall = nusselt_of_still_sphere(ra, film.prandtl()) * film.conductivity_w_m_k / diameter;
    const double height = std::sqrt(hollow.opening_m2 * 4 / std::numbers::pi);
    const double through = opening_exchange_w_k(hollow.opening_m2, height, inside_k, air_k) / hollow.wall_m2;
    return through > 0 ? 1 / (1 / wall + 1 / through) : 0;
}

Plume plume_over(double convected_w, double height_m, double width_m, double air_k) {
    if (!(convected_w > 0)) return {};
    const double power = std::pow(convected_w / 1000, 0.4);
    const double origin = 0.083 * power - 1.02 * width_m;
    // Flames reach 0.235 Q^⅖ − 1.02 D; nearer than that it gets no faster.
    const double rise = std::max(height_m - origin, (0.235 - 0.083) * power);
    const AirProperties air = air_at(air_k);
    // W/K that a cubic metre a second carries, as of a plume of one.
    const double heat_j_m3k = air.specific_heat_j_kg_k * air.density_kg_m3;
    const double speed_m_s = 3.4 * std::cbrt(standard_gravity * convected_w / (heat_j_m3k * air_k * rise));
    const double carried = convected_w / heat_j_m3k;
    const double hotter_by_k =
        9.1 * std::cbrt(air_k * carried * carried / (standard_gravity * std::pow(rise, 5)));
    return {speed_m_s / 2, hotter_by_k / 2};
}

}  // namespace evenspit
