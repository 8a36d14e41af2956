// SPDX-License-Identifier: MIT
#include "analysis/rod_check.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "analysis/balance.h"
#include "analysis/weigh.h"
#include "units/standard_gravity.h"

namespace evenspit {

namespace {

/// Adds a body that lies on the rod; see rod_loading().
void lie_on_rod(RodLoading& loading, const ItemOnRod& item, const ItemGrip& grip, const Assembly& assembly) {
    const double weight = item.mass_kg * standard_gravity, centre = item.centre.x();
    const auto on_rod = [length = assembly.rod.length_m](const Interval& run) {
        return Interval{std::clamp(run.from, 0.0, length), std::clamp(run.to, 0.0, length)};
    };
    std::vector<Interval> runs;
    for (const Interval& run : grip.rod_runs) {
        const Interval on = on_rod(run);
        if (on.length() > 0) runs.push_back(on);
    }
    // It hangs in the air: somewhere along its length.
    if (runs.empty()) runs.push_back(on_rod({item.from(), item.to()}));
    double length = 0, first = 0, second = 0;  // moments of the runs about the centre of mass
    for (const auto& [from, to] : runs) {
        const double a = from - centre, b = to - centre;
        length += b - a;
        first += (b * b - a * a) / 2;
        second += (b * b * b - a * a * a) / 3;
    }
    const double spread = length * second - first * first;
    if (!(spread > 0)) {  // beyond the rod's end
        loading.points.push_back({runs[0].from, weight});
        return;
    }
    // Intensity p + q (x − centre), its sum the weight and its moment about the centre nothing.
    const double p = weight * second / spread, q = -weight * first / spread;
    std::vector<SpreadLoad> pushes;
    double pushed = 0, moment = 0;
    for (auto [from, to] : runs) {
        double w0 = p + q * (from - centre), w1 = p + q * (to - centre);
        if (w0 <= 0 && w1 <= 0) continue;
        const double zero = q != 0 ? centre - p / q : 0;
        if (w0 < 0) from = zero, w0 = 0;
        if (w1 < 0) to = zero, w1 = 0;
        pushes.push_back({from, to, w0, w1});
        pushed += pushes.back().weight_n();
        moment += pushes.back().moment_n_m();
    }
    for (SpreadLoad& push : pushes) {
        push.force_n_m *= weight / pushed;
        push.end_force_n_m *= weight / pushed;
        loading.spreads.push_back(push);
    }
    // What only pushing cannot balance the forks do, through their clamped hubs.
    const double left = weight * (centre - moment / pushed);
    constexpr double rounding = 1e-12;
    if (std::abs(left) <= rounding * weight) return;
    if (grip.forks.empty()) {
        loading.couples.push_back({std::clamp(centre, 0.0, assembly.rod.length_m), left});
        return;
    }
    for (const int f : grip.forks) {
        const double hub = assembly.forks[static_cast<std::size_t>(f)].at_m;
        loading.couples.push_back(
            {std::clamp(hub, 0.0, assembly.rod.length_m), left / static_cast<double>(grip.forks.size())});
    }
}

/// Adds a body that hangs on its forks' tines; see rod_loading().
void hang_on_tines(RodLoading& loading, const ItemOnRod& item, const ItemGrip& item_grip, const Grip& grip,
                   const Assembly& assembly) {
    const double weight = item.mass_kg * standard_gravity;
    for (const CarriedShare& carried : carried_shares(item_grip, grip, assembly.forks, item.centre.x())) {
        const double hub = assembly.forks[static_cast<std::size_t>(carried.fork)].at_m;
        const double at = std::clamp(hub, 0.0, assembly.rod.length_m);
        loading.points.push_back({at, carried.share * weight});
        loading.couples.push_back({at, (carried.lever_m + carried.share * (hub - at)) * weight});
    }
}

/// The stress in a rod between neighbouring marks, where neither its loading nor what twists it changes.
struct RodStress {
    const Rod& rod;
    const RodLoading& loading;
    const Beam& beam;
    const SectionProperties& section;
    double far_torque_n_m;

    /// \param before, beyond what the unbalances that lie before a station and beyond it add up to, kg m
    [[nodiscard]] double twist(double station, const Vec2& before, const Vec2& beyond) const {
        // The motor seizes the rod at the drive seat: nothing twists the stub before it unless something
        // hangs there.
        if (station < rod.supports_m[0]) return standard_gravity * before.norm();
        const double twist = standard_gravity * beyond.norm();
        return station < rod.supports_m[1] ? twist + far_torque_n_m : twist;
    }

    [[nodiscard]] double of(double bend_n_m, double twist_n_m) const {
        const double sigma = bend_n_m / section.least_modulus_m3;
        const double tau = twist_n_m / section.torsion_modulus_m3;
        return std::sqrt(sigma * sigma + 3 * tau * tau);
    }

    /// Where it is greatest between two marks, Pa.
    [[nodiscard]] BeamExtreme greatest_between(double from, double to) const {
        const double middle = (from + to) / 2;
        Vec2 before = Vec2::Zero(), beyond = Vec2::Zero();
        for (const TorqueEntry& entry : loading.torques) {
            if (entry.at_m > middle) beyond += entry.unbalance_kg_m;
            if (entry.at_m < middle) before += entry.unbalance_kg_m;
        }
        const BeamExtreme bend = beam.largest_moment(from, to);
        return {bend.at_m, of(std::abs(bend.value), twist(middle, before, beyond))};
    }

    /// More than it is between each two marks: in a time that grows with their number alone, by sums that run
    /// along the rod.
    [[nodiscard]] std::vector<double> most_between(const std::vector<double>& marks) const {
        std::vector<TorqueEntry> entries = loading.torques;
        std::sort(entries.begin(), entries.end(),
                  [](const TorqueEntry& a, const TorqueEntry& b) { return a.at_m < b.at_m; });
        double all = 0;
        Vec2 before = Vec2::Zero(), sum = Vec2::Zero();
        for (const TorqueEntry& entry : entries) {
            sum += entry.unbalance_kg_m;
            all += entry.unbalance_kg_m.norm();
        }
        constexpr double rounding = 16 * std::numeric_limits<double>::epsilon();
        const double twist_error = standard_gravity * all * static_cast<double>(entries.size()) * rounding;
        const double bend_error = 2 * beam.quick_moment_error_n_m();
        std::vector<double> most;
        std::size_t next = 0;
        for (std::size_t i = 0; i + 1 < marks.size(); ++i) {
            const double middle = (marks[i] + marks[i + 1]) / 2;
            for (; next < entries.size() && entries[next].at_m < middle; ++next)
                before += entries[next].unbalance_kg_m;
            most.push_back(of(beam.most_moment(marks[i], marks[i + 1]) + bend_error,
                              twist(middle, before, sum - before) + twist_error) *
                           (1 + rounding));
        }
        return most;
    }
};

}  // namespace

RodLoading rod_loading(const Assembly& assembly, const std::vector<ItemOnRod>& items, const Grip& grip,
                       Carried way) {
    RodLoading loading;
    const double length = assembly.rod.length_m;
    // What is seated past a rod's end is told as a finding of its own; the beam takes it at the end.
    const auto on_rod = [length](double x) { return std::clamp(x, 0.0, length); };

    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const ItemOnRod& item = items[i];
        const std::vector<int>& forks = grip.items[i].forks;
        // A rod that meets no meat, as between the openings of a bird, carries none.
        const bool touches = !grip.items[i].rod_runs.empty();
        if (forks.empty() || (way == Carried::on_rod && touches)) {
            lie_on_rod(loading, item, grip.items[i], assembly);
        } else {
            hang_on_tines(loading, item, grip.items[i], grip, assembly);
        }
        if (forks.empty()) {
            loading.torques.push_back({on_rod(item.centre.x()), item.unbalance_kg_m()});
            continue;
        }
        double bite_sum = 0;
        for (const int f : forks) bite_sum += grip.forks[static_cast<std::size_t>(f)].torque_capacity_n_m;
        for (const int f : forks) {
            const double bite = grip.forks[static_cast<std::size_t>(f)].torque_capacity_n_m;
            const double part = bite_sum > 0 ? bite / bite_sum : 1 / static_cast<double>(forks.size());
            loading.torques.push_back(
                {on_rod(assembly.forks[static_cast<std::size_t>(f)].at_m), part * item.unbalance_kg_m()});
        }
    }
    for (const Fork& fork : assembly.forks) {
        if (fork.kind == ForkKind::basket) {
            loading.spreads.push_back(
                {on_rod(fork.at_m - fork.cage.length_m / 2), on_rod(fork.at_m + fork.cage.length_m / 2),
                 (fork.mass_kg + fork.cage.contents_kg) / fork.cage.length_m * standard_gravity});
            continue;
        }
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
         .spreads = loading.spreads,
         .couples = loading.couples});
}

double friction_torque(const Motor& motor, const Rod& rod, const std::array<double, 2>& reactions_n) {
    if (motor.friction_torque_n_m) return *motor.friction_torque_n_m;
    const double radius = section_properties(rod.section, rod.width_m).outer_radius_m;
    return motor.support_friction * std::abs(reactions_n[1]) * radius;
}

FlatsTorque flats_torque(const Rod& rod, const std::array<double, 2>& reactions_n) {
    const int flats = rod.bushing ? 0 : flats_of(rod.section);
    if (flats == 0) return {};
    const double radius = section_properties(rod.section, rod.width_m).outer_radius_m;
    return {flats, std::abs(reactions_n[1]) * radius * std::sin(std::numbers::pi / flats)};
}

RodResult rod_result(const Rod& rod, const RodLoading& loading, const Beam& beam, double far_torque_n_m) {
    RodResult result;
    result.reactions_n = beam.reactions();
    const BeamExtreme sag = beam.largest_sag();
    result.sag_max_m = sag.value;
    result.sag_at_m = sag.at_m;
    result.youngs_modulus_pa = rod.material.modulus_at(rod.temperature_k);
    result.yield_strength_pa = rod.material.yield_at(rod.temperature_k);

    const SectionProperties section = section_properties(rod.section, rod.width_m);
    std::vector<double> marks = beam.breakpoints();
    for (const TorqueEntry& entry : loading.torques) marks.push_back(entry.at_m);
    std::sort(marks.begin(), marks.end());
    marks.erase(std::unique(marks.begin(), marks.end()), marks.end());
    // Quickly first: few stretches come near the greatest.
    const RodStress stress{rod, loading, beam, section, far_torque_n_m};
    const std::vector<double> most = stress.most_between(marks);
    const auto likely = static_cast<std::size_t>(std::max_element(most.begin(), most.end()) - most.begin());
    const double least = stress.greatest_between(marks[likely], marks[likely + 1]).value;
    for (std::size_t i = 0; i < most.size(); ++i) {
        if (most[i] < least) continue;
        const BeamExtreme here = stress.greatest_between(marks[i], marks[i + 1]);
        if (here.value > result.stress_max_pa) {
            result.stress_max_pa = here.value;
            result.stress_at_m = here.at_m;
        }
    }
    result.yield_use = result.stress_max_pa / result.yield_strength_pa;

    return result;
}

void add_curves(RodResult& result, const Rod& rod, const RodLoading& loading, const Beam& beam) {
    std::vector<double> marks = beam.breakpoints();
    for (const TorqueEntry& entry : loading.torques) marks.push_back(entry.at_m);
    constexpr int samples = 200;
    for (int k = 0; k <= samples; ++k) marks.push_back(rod.length_m * k / samples);
    std::sort(marks.begin(), marks.end());
    marks.erase(std::unique(marks.begin(), marks.end()), marks.end());
    for (const double x : marks) {
        result.sag.push_back({x, beam.quick_sag(x)});
        result.moment.push_back({x, beam.quick_moment(x)});
    }
}

}  // namespace evenspit
