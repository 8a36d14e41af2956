// SPDX-License-Identifier: MIT
#include "analysis/rod_check.h"

#include <algorithm>
#include <cmath>

#include "analysis/balance.h"
#include "analysis/grip.h"
#include "units/standard_gravity.h"

namespace evenspit {

RodLoading rod_loading(const Assembly& assembly, const std::vector<PlacedItem>& placed, const Grip& grip) {
    RodLoading loading;
    const double length = assembly.rod.length_m;
    // What is seated past a rod's end is told as a finding of its own; the beam takes it at the end.
    const auto on_rod = [length](double x) { return std::clamp(x, 0.0, length); };

    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const PlacedItem& item = placed[i];
        const double weight = item.mass_kg * standard_gravity;
        const std::vector<int>& forks = grip.items[i].forks;
        if (forks.empty()) {
            const double from = on_rod(item.from()), to = on_rod(item.to());
            if (to > from) {
                loading.spreads.push_back({from, to, weight / (to - from)});
            } else {
                loading.points.push_back({from, weight});
            }
            loading.torques.push_back({on_rod(item.centre.x()), item.unbalance_kg_m()});
            continue;
        }
        std::vector<double> stations, bites;
        double bite_sum = 0;
        for (const int f : forks) {
            const auto fork = static_cast<std::size_t>(f);
            stations.push_back(assembly.forks[fork].at_m);
            bites.push_back(grip.forks[fork].torque_capacity_n_m);
            bite_sum += bites.back();
        }
        for (std::size_t k = 0; k < forks.size(); ++k) {
            const double part = bite_sum > 0 ? bites[k] / bite_sum : 1 / static_cast<double>(forks.size());
            loading.torques.push_back({on_rod(stations[k]), part * item.unbalance_kg_m()});
        }
        for (const CarriedShare& carried : carried_shares(item, stations)) {
            loading.points.push_back({on_rod(carried.at_m), carried.share * weight});
        }
    }
    for (const Fork& fork : assembly.forks) {
        loading.points.push_back({on_rod(fork.at_m), fork.mass_kg * standard_gravity});
        loading.torques.push_back({on_rod(fork.at_m), fork_centre(fork).tail<2>() * fork.mass_kg});
    }
    for (const Counterweight& weight : assembly.counterweights) {
        loading.points.push_back({on_rod(weight.at_m), weight.mass_kg * standard_gravity});
        const Vec3 centre = rod_point(weight.at_m, weight.radius_m, weight.clock_rad);
        loading.torques.push_back({on_rod(weight.at_m), weight.mass_kg * centre.tail<2>()});
    }
    const double rod_weight_n_m = rod_mass(assembly.rod) / length * standard_gravity;
    if (rod_weight_n_m > 0) loading.spreads.push_back({0, length, rod_weight_n_m});
    return loading;
}

Beam rod_beam(const Rod& rod, const RodLoading& loading) {
    const SectionProperties section = section_properties(rod.section, rod.width_m);
    return Beam(
        {.length_m = rod.length_m,
         .supports_m = rod.supports_m,
         .bending_stiffness_n_m2 = rod.material.modulus_at(rod.temperature_k) * section.second_moment_m4,
         .points = loading.points,
         .spreads = loading.spreads});
}

double friction_torque(const Motor& motor, const Rod& rod, const std::array<double, 2>& reactions_n) {
    if (motor.friction_torque_n_m) return *motor.friction_torque_n_m;
    const double radius = section_properties(rod.section, rod.width_m).outer_radius_m;
    return motor.support_friction * (std::abs(reactions_n[0]) + std::abs(reactions_n[1])) * radius;
}

RodResult rod_result(const Rod& rod, const RodLoading& loading, const Beam& beam,
                     double friction_torque_n_m) {
    RodResult result;
    result.reactions_n = beam.reactions();
    const BeamExtreme sag = beam.largest_sag();
    result.sag_max_m = sag.value;
    result.sag_at_m = sag.at_m;
    result.youngs_modulus_pa = rod.material.modulus_at(rod.temperature_k);
    result.yield_strength_pa = rod.material.yield_at(rod.temperature_k);

    const SectionProperties section = section_properties(rod.section, rod.width_m);
    const double carried = std::abs(result.reactions_n[0]) + std::abs(result.reactions_n[1]);
    const double far_friction =
        carried > 0 ? friction_torque_n_m * std::abs(result.reactions_n[1]) / carried : 0;

    std::vector<double> marks = beam.breakpoints();
    for (const TorqueEntry& entry : loading.torques) marks.push_back(entry.at_m);
    std::sort(marks.begin(), marks.end());
    marks.erase(std::unique(marks.begin(), marks.end()), marks.end());
    for (std::size_t i = 0; i + 1 < marks.size(); ++i) {
        const double middle = (marks[i] + marks[i + 1]) / 2;
        Vec2 beyond = Vec2::Zero();
        for (const TorqueEntry& entry : loading.torques) {
            if (entry.at_m > middle) beyond += entry.unbalance_kg_m;
        }
        // The motor seizes the rod at the drive seat: nothing twists the stub before it unless something
        // hangs there.
        double twist = standard_gravity * beyond.norm();
        if (middle < rod.supports_m[0]) {
            Vec2 before = Vec2::Zero();
            for (const TorqueEntry& entry : loading.torques) {
                if (entry.at_m < middle) before += entry.unbalance_kg_m;
            }
            twist = standard_gravity * before.norm();
        } else if (middle < rod.supports_m[1]) {
            twist += far_friction;
        }
        const BeamExtreme bend = beam.largest_moment(marks[i], marks[i + 1]);
        const double sigma = std::abs(bend.value) / section.least_modulus_m3;
        const double tau = twist / section.torsion_modulus_m3;
        const double stress = std::sqrt(sigma * sigma + 3 * tau * tau);
        if (stress > result.stress_max_pa) {
            result.stress_max_pa = stress;
            result.stress_at_m = bend.at_m;
        }
    }
    result.yield_use = result.stress_max_pa / result.yield_strength_pa;

    constexpr int samples = 200;
    for (int k = 0; k <= samples; ++k) marks.push_back(rod.length_m * k / samples);
    std::sort(marks.begin(), marks.end());
    marks.erase(std::unique(marks.begin(), marks.end()), marks.end());
    for (const double x : marks) {
        result.sag.push_back({x, beam.sag(x)});
        result.moment.push_back({x, beam.moment(x)});
    }
    return result;
}

}  // namespace evenspit
