// SPDX-License-Identifier: MIT
#include "analysis/hold.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "analysis/tumbling.h"
#include "analysis/weigh.h"
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

/// How far a fork's tines in one item are bent.
///
/// \param couple_n_m_m2 of the fork's share of the weight about its hub, on what its tines press on
/// \param weight_pa that share itself on the same, which bends a bracket's legs
/// \param pressed_pa what the item's torque presses on all its tines with
void bend_tines(ForkGrip& grip, int item, const Fork& fork, double couple_n_m_m2, double weight_pa,
                double pressed_pa, double heavy_side_rad) {
    for (std::size_t t = 0; t < fork.tines.size(); ++t) {
        TineGrip& tine = grip.tines[t];
        if (tine.item != item) continue;
        const double d = fork.tines[t].diameter_m;
        const double bearing_m2 = d * std::max(0.0, tine.in_flesh_m());
        const bool leg = fork.kind == ForkKind::bracket;
        const double arm_m = leg ? tine.flesh_arm_m : tine.flesh_middle_m - fork.at_m;
        const double upright_n_m = leg ? weight_pa * bearing_m2 * arm_m
                                       : std::copysign(couple_n_m_m2 * bearing_m2, couple_n_m_m2 * arm_m);
        const double round_n_m = pressed_pa * bearing_m2 * std::abs(arm_m);
        const double modulus_m3 = std::numbers::pi * d * d * d / 32;
        tine.bend_use =
            pushes_together(upright_n_m, round_n_m, tine_clock(fork, fork.tines[t]), heavy_side_rad) /
            modulus_m3 / tine_yield_pa;
    }
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
        double thrust = 0, slope = 0, capacity = 0;
        for (const int f : item.forks)
            capacity += grip.forks[static_cast<std::size_t>(f)].torque_capacity_n_m;
        for (const int index : item.forks) {
            const auto f = static_cast<std::size_t>(index);
            const Fork& fork = assembly.forks[f];
            thrust += clamp_thrust(fork.clamp);
            slope = std::max(slope, std::abs(beam.slope(std::clamp(fork.at_m, 0.0, assembly.rod.length_m))));
            if (fork.kind == ForkKind::basket) {
                turned[f] += item.gravity_torque_n_m;
            } else if (capacity > 0)
                turned[f] += item.gravity_torque_n_m * grip.forks[f].torque_capacity_n_m / capacity;
        }
        if (thrust > 0) item.slide_use = weight * (slope + out_of_level_rad) / thrust;
        // Pressure of torque on flesh, the same on all its tines.
        const double pressed_pa = item.torque_use.value_or(0) * least_bearing_strength_pa(assembly.items[i]);
        for (const CarriedShare& carried : carried_shares(item, grip, assembly.forks, items[i].centre.x())) {
            const auto f = static_cast<std::size_t>(carried.fork);
            const auto spread = [&carried](double load) {
                return carried.bearing_m2 > 0 ? load / carried.bearing_m2 : 0;
            };
            bend_tines(grip.forks[f], static_cast<int>(i), assembly.forks[f],
                       spread(carried.lever_m * weight), spread(std::abs(carried.share) * weight), pressed_pa,
                       items[i].heavy_side_rad());
        }
    }
    for (std::size_t f = 0; f < grip.forks.size(); ++f) {
        const Fork& fork = assembly.forks[f];
        if (fork.kind == ForkKind::basket) turned[f] += tumbling(fork).torque_n_m;
        const double held = clamp_torque(fork.clamp, assembly.rod);
        if (!holds_by_shape(fork, assembly.rod) && held > 0) grip.forks[f].clamp_use = turned[f] / held;
    }
}

}  // namespace evenspit
