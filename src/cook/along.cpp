// SPDX-License-Identifier: MIT
#include "cook/along.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "analysis/balance.h"
#include "analysis/beam.h"
#include "analysis/figures.h"
#include "analysis/turn_law.h"
#include "roast/cook_ends.h"
#include "units/standard_gravity.h"

namespace evenspit::cook {
namespace {

constexpr double push_when_m = 0.005, push_with_m = 0.003, leave_alone_s = 900;

/// Forks pushed in by so much, toward where their tines look.
Assembly pushed(Assembly load, std::span<const double> pushed_m) {
    for (std::size_t f = 0; f < pushed_m.size(); ++f) {
        // Brackets and baskets are only tightened.
        if (load.forks[f].kind != ForkKind::fork) continue;
        load.forks[f].at_m += load.forks[f].points == Facing::point ? pushed_m[f] : -pushed_m[f];
    }
    return load;
}

/// Where a leg comes out of the skin its plate lies: the greatest retreat along it.
double retreat_at_leg(const Assembly& load, const PinLine& leg) {
    constexpr int places = 40;
    double most = 0;
    for (const Item& item : load.items) {
        if (!item.matter || !item.matter->flesh) continue;
        const Pose to_item = item.pose.inverse();
        for (int n = 0; n <= places; ++n) {
            const Vec3 own = to_item * Vec3(leg.root + n * (leg.tip - leg.root) / places) / item.off.scale;
            const bool inside = std::any_of(item.body->queries.begin(), item.body->queries.end(),
                                            [&own](const SolidQueries& part) { return part.contains(own); });
            if (inside) most = std::max(most, static_cast<double>(item.matter->flesh->at(own).retreat_m));
        }
    }
    return most;
}

/// By how much what lies in a basket has become thinner: twice the mean retreat of its skin.
double retreat_in_basket(const Assembly& load, const Fork& basket) {
    constexpr std::size_t places = 200;
    double most = 0;
    for (const Item& item : load.items) {
        if (!item.matter || !item.matter->flesh || !in_basket(item, basket)) continue;
        const std::vector<Vec3>& skin = item.body->body.parts.front().mesh.vertices;
        const std::size_t every = std::max<std::size_t>(1, skin.size() / places);
        double sum = 0;
        std::size_t count = 0;
        for (std::size_t v = 0; v < skin.size(); v += every, ++count)
            sum += static_cast<double>(item.matter->flesh->at(skin[v]).retreat_m);
        if (count > 0) most = std::max(most, 2 * sum / static_cast<double>(count));
    }
    return most;
}

std::optional<double> worst_hold(const Grip& grip) {
    std::optional<double> worst;
    for (const ItemGrip& item : grip.items) {
        if (item.hold_use && (!worst || *item.hold_use > *worst)) worst = item.hold_use;
    }
    return worst;
}

}  // namespace

std::vector<double> time_shares(const Assembly& load, std::size_t angles) {
    const Analysis now = figures(
        load, [](const Assembly&) { return SweptLoad{}; }, Detail::trial);
    if (now.turning.stalls) return {};
    constexpr int parts = 8;
    std::vector<double> shares(angles, 0.0);
    for (std::size_t k = 0; k < angles; ++k) {
        for (int part = 0; part < parts; ++part) {
            const double turn = 2 * std::numbers::pi * (double(k) + (part + 0.5) / parts) / double(angles);
            const double speed = speed_at(now.balance, load.motor, turn);
            if (!(speed > 0)) return {};
            shares[k] += 1 / (parts * speed);
        }
    }
    return shares;
}

Along along_at(const Assembly& assembly, const RoastMoment& moment, const SweptLoad& swept,
               std::span<const double> pushed_m, const std::stop_token& stop) {
    const Assembly load = load_at(assembly, moment);
    const Analysis now = figures(
        load, [&](const Assembly&) { return swept; }, Detail::trial, stop);
    Along along;
    along.time_s = moment.time_s;
    for (const ItemMoment& item : moment.items) along.mass_kg += item.matter.mass_kg;
    along.unbalance_kg_m = now.balance.unbalance_kg_m;
    along.gravity_torque_n_m = now.balance.gravity_torque_peak_n_m;
    along.motor_use = now.balance.motor_use;
    along.stalls = now.turning.stalls;
    along.irregularity = now.turning.irregularity;
    along.sag_m = now.rod.sag_max_m;
    along.gap_m = now.clearance.gap_min_m;
    along.torque_use = along.torque_use_tightened = now.grip.torque_use;
    along.hold_use = along.hold_use_tightened = worst_hold(now.grip);
    if (std::any_of(pushed_m.begin(), pushed_m.end(), [](double m) { return m > 0; })) {
        const Analysis tight = figures(
            pushed(load, pushed_m), [](const Assembly&) { return SweptLoad{}; }, Detail::trial, stop);
        along.torque_use_tightened = tight.grip.torque_use;
        along.hold_use_tightened = worst_hold(tight.grip);
    }
    return along;
}

double retreat_at_fork(const Assembly& load, std::size_t fork) {
    const Fork& on = load.forks[fork];
    if (on.kind == ForkKind::basket) return retreat_in_basket(load, on);
    double most = 0;
    for (std::size_t t = 0; t < on.tines.size(); ++t) {
        if (on.kind == ForkKind::bracket) {
            most = std::max(most, retreat_at_leg(load, pin_line(on, on.tines[t])));
            continue;
        }
        const Vec3 middle = tine_middle(on, t);
        for (const Item& item : load.items) {
            const auto [from, to] = stretch_on_rod(item);
            const auto [first, last] = tine_stretch(on, on.tines[t]);
            if (last <= from || first >= to || !item.matter || !item.matter->flesh) continue;
            // Where it enters: the end of the shared stretch on the hub's side.
            Vec3 enters = middle;
            enters.x() = on.points == Facing::point ? std::max(first, from) : std::min(last, to);
            const Vec3 own = item.pose.inverse() * enters / item.off.scale;
            most = std::max(most, static_cast<double>(item.matter->flesh->at(own).retreat_m));
        }
    }
    return most;
}

std::vector<Retighten> retightening(const Assembly& assembly, const RoastCourse& course) {
    std::vector<Retighten> all;
    std::vector<double> pushed_m(assembly.forks.size(), 0.0);
    const double until_s = course.off_s.value_or(0) - leave_alone_s;
    for (const RoastMoment& moment : course.moments) {
        if (moment.resting || moment.time_s > until_s) break;
        const Assembly load = load_at(assembly, moment);
        std::vector<double> retreat_m(load.forks.size());
        double most_m = 0;
        for (std::size_t f = 0; f < load.forks.size(); ++f) {
            retreat_m[f] = retreat_at_fork(load, f);
            most_m = std::max(most_m, retreat_m[f] - pushed_m[f]);
        }
        if (most_m < push_when_m) continue;
        for (std::size_t f = 0; f < load.forks.size(); ++f) {
            if (retreat_m[f] - pushed_m[f] < push_with_m) continue;
            const double to_m = std::round(retreat_m[f] * 1000) / 1000;
            all.push_back({moment.time_s, f, to_m - pushed_m[f]});
            pushed_m[f] = to_m;
        }
    }
    return all;
}

}  // namespace evenspit::cook
