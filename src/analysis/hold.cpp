// SPDX-License-Identifier: MIT
#include "analysis/hold.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "units/standard_gravity.h"

namespace evenspit {
namespace {

constexpr double thread_friction = 0.15;
constexpr double greased_friction = 0.10;
constexpr double out_of_level_rad = 2 * std::numbers::pi / 180;
constexpr double tine_yield_pa = 400e6;

/// Diameter and pitch, m.
struct Thread {
    double diameter_m, pitch_m;
};
constexpr std::array<Thread, 7> coarse_threads{{{0.003, 0.0005},
                                                {0.004, 0.0007},
                                                {0.005, 0.0008},
                                                {0.006, 0.001},
                                                {0.008, 0.00125},
                                                {0.010, 0.0015},
                                                {0.012, 0.00175}}};

double pitch_of(double diameter_m) {
    for (std::size_t k = 1; k < coarse_threads.size(); ++k) {
        const auto [d0, p0] = coarse_threads[k - 1];
        const auto [d1, p1] = coarse_threads[k];
        if (diameter_m <= d1 || k + 1 == coarse_threads.size())
            return std::max(p0 / 2, std::lerp(p0, p1, (diameter_m - d0) / (d1 - d0)));
    }
    return coarse_threads.back().pitch_m;
}

}  // namespace

double clamp_force(const Clamp& clamp) {
    const double pitch = pitch_of(clamp.screw_m);
    const double pitch_diameter = clamp.screw_m - 0.6495 * pitch;  // ISO 724: d − 3/8 · √3 · pitch
    const double lead = std::atan(pitch / (std::numbers::pi * pitch_diameter));
    const double rub = std::atan(thread_friction / std::cos(std::numbers::pi / 6));
    return clamp.torque_n_m /
           (pitch_diameter / 2 * std::tan(lead + rub) + thread_friction * 2 / 3 * 0.35 * clamp.screw_m);
}

double clamp_torque(const Clamp& clamp, const Rod& rod) {
    return greased_friction * clamp_force(clamp) * rod.width_m;
}

double clamp_thrust(const Clamp& clamp) {
    return 2 * greased_friction * clamp_force(clamp);
}

void hold(Grip& grip, const Assembly& assembly, const std::vector<ItemOnRod>& items, const Beam& beam) {
    std::vector<double> turned(grip.forks.size(), 0.0);  // torque that each clamp hands on, N m
    for (std::size_t i = 0; i < grip.items.size(); ++i) {
        ItemGrip& item = grip.items[i];
        const double weight = items[i].mass_kg * standard_gravity;
        const double strength = least_bearing_strength_pa(assembly.items[i]);
        double thrust = 0, slope = 0, capacity = 0;
        for (const int f : item.forks)
            capacity += grip.forks[static_cast<std::size_t>(f)].torque_capacity_n_m;
        for (const int index : item.forks) {
            const auto f = static_cast<std::size_t>(index);
            const Fork& fork = assembly.forks[f];
            thrust += clamp_thrust(fork.clamp);
            slope = std::max(slope, std::abs(beam.slope(std::clamp(fork.at_m, 0.0, assembly.rod.length_m))));
            if (capacity > 0)
                turned[f] += item.gravity_torque_n_m * grip.forks[f].torque_capacity_n_m / capacity;
            for (std::size_t t = 0; t < fork.tines.size(); ++t) {
                TineGrip& tine = grip.forks[f].tines[t];
                if (tine.item != static_cast<int>(i) || !item.hold_use) continue;
                const double d = fork.tines[t].diameter_m;
                const double force = *item.hold_use * strength * d * std::max(0.0, tine.in_flesh_m());
                const double modulus = std::numbers::pi * d * d * d / 32;
                tine.bend_use = force * std::abs(tine.flesh_middle_m - fork.at_m) / modulus / tine_yield_pa;
            }
        }
        if (thrust > 0) item.slide_use = weight * (slope + out_of_level_rad) / thrust;
    }
    for (std::size_t f = 0; f < grip.forks.size(); ++f) {
        const Fork& fork = assembly.forks[f];
        const double held = clamp_torque(fork.clamp, assembly.rod);
        if (!holds_by_shape(fork, assembly.rod) && held > 0) grip.forks[f].clamp_use = turned[f] / held;
    }
}

}  // namespace evenspit
