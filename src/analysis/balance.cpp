// SPDX-License-Identifier: MIT
#include "analysis/balance.h"

#include <algorithm>
#include <cmath>
#include <limits>
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
        const PinLine line = pin_line(fork, tine);
        moment += mass * ((line.root + line.tip) / 2 - Vec3(fork.at_m, 0, 0));
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
    for (const Fork& fork : assembly.forks) {
        // Loose pieces stay where they are while the basket turns: weight, but no unbalance.
        masses.push_back({fork.mass_kg + fork.cage.contents_kg, fork_centre(fork)});
    }
    for (const Counterweight& weight : assembly.counterweights) {
        masses.push_back({weight.mass_kg, rod_point(weight.at_m, weight.radius_m, weight.clock_rad)});
    }
    masses.push_back({rod_mass(assembly.rod), Vec3(assembly.rod.length_m / 2, 0, 0)});
    return masses;
}

Vec2 unbalance_of(const Assembly& assembly, Doneness end) {
    Vec2 sum = Vec2::Zero();
    for (const TurningMass& m : turning_masses(assembly, end)) sum += m.unbalance_kg_m();
    return sum;
}

Balance balance(const std::vector<TurningMass>& masses, const Motor& motor, double friction_torque_n_m,
                const FlatsTorque& flats) {
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
    b.flats = flats.flats;
    b.flats_torque_peak_n_m = flats.peak_n_m;
    b.motor_torque_peak_n_m = torque_range(b).greatest_n_m;
    b.rated_torque_n_m = motor.rated_torque_n_m;
    b.motor_use = b.motor_torque_peak_n_m / motor.rated_torque_n_m;
    if (b.mass_kg > 0) {
        b.centrifugal_over_weight =
            b.unbalance_kg_m_size * motor.speed_rad_s * motor.speed_rad_s / (b.mass_kg * standard_gravity);
    }
    return b;
}

double motor_torque_at(const Balance& b, double turn_rad) {
    // From the components, so that a perfect balance has no heavy side to be wrong about.
    const double lift = b.unbalance_kg_m.x() * std::cos(turn_rad) - b.unbalance_kg_m.y() * std::sin(turn_rad);
    const double torque = standard_gravity * lift + b.friction_torque_n_m;
    if (b.flats == 0) return torque;
    const double period = 2 * std::numbers::pi / b.flats;
    const double off_flat = turn_rad - period * std::floor(turn_rad / period);
    return torque + b.flats_torque_peak_n_m * std::sin(period / 2 - off_flat) / std::sin(period / 2);
}

TorqueRange torque_range(const Balance& b) {
    const double gravity = b.gravity_torque_peak_n_m, friction = b.friction_torque_n_m;
    if (b.flats == 0) return {friction - gravity, friction + gravity};
    // From flat to flat it is one cosine, c cos θ + s sin θ: greatest at an end, or where that peaks between.
    const double period = 2 * std::numbers::pi / b.flats;
    const double flat = b.flats_torque_peak_n_m / std::sin(period / 2);
    double least = std::numeric_limits<double>::infinity(), greatest = -least;
    for (int k = 0; k < b.flats; ++k) {
        const double corner = (k + 0.5) * period;
        const double c = standard_gravity * b.unbalance_kg_m.x() + flat * std::sin(corner);
        const double s = -standard_gravity * b.unbalance_kg_m.y() - flat * std::cos(corner);
        const auto take = [&](double angle) {
            const double torque = c * std::cos(angle) + s * std::sin(angle);
            least = std::min(least, torque);
            greatest = std::max(greatest, torque);
        };
        take(corner - period / 2);
        take(corner + period / 2);
        for (const double peak : {std::atan2(s, c), std::atan2(-s, -c)}) {
            if (std::abs(std::remainder(peak - corner, 2 * std::numbers::pi)) < period / 2) take(peak);
        }
    }
    return {friction + least, friction + greatest};
}

std::vector<std::array<double, 2>> torque_curve(const Balance& b) {
    std::vector<std::array<double, 2>> curve;
    curve.reserve(360);
    for (int degree = 0; degree < 360; ++degree)
        curve.push_back({static_cast<double>(degree), motor_torque_at(b, degree * std::numbers::pi / 180)});
    return curve;
}

}  // namespace evenspit
