// SPDX-License-Identifier: MIT
#include "analysis/balance.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "units/standard_gravity.h"

namespace evenspit {
namespace {

/// Density of steel for weighing tines, kg/m³: EN 1993-1-4 gives 7900 for austenitic stainless steel (from
/// memory).
constexpr double tine_density_kg_m3 = 7900;

double pin_mass(const Tine& tine) {
    return std::numbers::pi / 4 * tine.diameter_m * tine.diameter_m * tine.length_m * tine_density_kg_m3;
}

}  // namespace

double rod_mass(const Rod& rod) {
    return section_properties(rod.section, rod.width_m).area_m2 * rod.length_m * rod.material.density_kg_m3;
}

double tine_mass(const Fork& fork, const Tine& tine) {
    double all_kg = 0;
    for (const Tine& pin : fork.tines) all_kg += pin_mass(pin);
    return all_kg > fork.mass_kg ? fork.mass_kg * pin_mass(tine) / all_kg : pin_mass(tine);
}

Vec3 fork_centre(const Fork& fork) {
    Vec3 moment = Vec3::Zero();  // about the hub
    double tines_kg = 0;
    for (const Tine& tine : fork.tines) {
        const double mass = pin_mass(tine);
        moment +=
            mass * (rod_point((fork.at_m + tine_tip(fork, tine)) / 2, tine.radius_m, tine_clock(fork, tine)) -
                    Vec3(fork.at_m, 0, 0));
        tines_kg += mass;
    }
    Vec3 hub(fork.at_m, 0, 0);
    if (tines_kg <= 0 || fork.mass_kg <= 0) return hub;
    // A fork said to be lighter than its pins is all pins, and its pins are lighter than steel.
    return hub + moment / std::max(tines_kg, fork.mass_kg);
}

std::vector<TurningMass> turning_masses(const Assembly& assembly, Doneness end) {
    std::vector<TurningMass> masses = item_masses(assembly, end);
    masses.reserve(masses.size() + assembly.forks.size() + assembly.counterweights.size() + 1);
    for (const Fork& fork : assembly.forks) masses.push_back({fork.mass_kg, fork_centre(fork)});
    for (const Counterweight& weight : assembly.counterweights) {
        masses.push_back({weight.mass_kg, rod_point(weight.at_m, weight.radius_m, weight.clock_rad)});
    }
    masses.push_back({rod_mass(assembly.rod), Vec3(assembly.rod.length_m / 2, 0, 0)});
    return masses;
}

Balance balance(const std::vector<TurningMass>& masses, const Motor& motor, double friction_torque_n_m) {
    Balance b;
    double station_moment = 0;
    for (const TurningMass& m : masses) {
        b.mass_kg += m.mass_kg;
        b.unbalance_kg_m += m.mass_kg * m.centre.tail<2>();
        station_moment += m.mass_kg * m.centre.x();
    }
    if (b.mass_kg > 0) b.centre_x_m = station_moment / b.mass_kg;
    for (const TurningMass& m : masses) {
        b.couple_kg_m2 += m.mass_kg * (m.centre.x() - b.centre_x_m) * m.centre.tail<2>();
    }
    b.unbalance_kg_m_size = b.unbalance_kg_m.norm();
    if (b.unbalance_kg_m_size > 0) {
        b.heavy_side_rad = std::atan2(b.unbalance_kg_m.y(), b.unbalance_kg_m.x());
        if (b.heavy_side_rad < 0) b.heavy_side_rad += 2 * std::numbers::pi;
        // A hair below 0 has rounded up to a whole turn.
        if (b.heavy_side_rad >= 2 * std::numbers::pi) b.heavy_side_rad = 0;
    }
    b.gravity_torque_peak_n_m = standard_gravity * b.unbalance_kg_m_size;
    b.friction_torque_n_m = friction_torque_n_m;
    b.motor_torque_peak_n_m = b.gravity_torque_peak_n_m + friction_torque_n_m;
    b.rated_torque_n_m = motor.rated_torque_n_m;
    b.motor_use = b.motor_torque_peak_n_m / motor.rated_torque_n_m;
    if (b.mass_kg > 0) {
        b.centrifugal_over_weight =
            b.unbalance_kg_m_size * motor.speed_rad_s * motor.speed_rad_s / (b.mass_kg * standard_gravity);
    }
    return b;
}

std::vector<std::array<double, 2>> torque_curve(const Balance& b) {
    std::vector<std::array<double, 2>> curve;
    curve.reserve(360);
    for (int degree = 0; degree < 360; ++degree) {
        const double angle = degree * std::numbers::pi / 180;
        // From the components, so that a perfect balance has no heavy side to be wrong about.
        const double lift = b.unbalance_kg_m.x() * std::cos(angle) - b.unbalance_kg_m.y() * std::sin(angle);
        curve.push_back({static_cast<double>(degree), standard_gravity * lift + b.friction_torque_n_m});
    }
    return curve;
}

}  // namespace evenspit
