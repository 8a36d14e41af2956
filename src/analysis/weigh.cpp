// SPDX-License-Identifier: MIT
#include "analysis/weigh.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "analysis/limits.h"
#include "units/standard_gravity.h"

namespace evenspit {
namespace {

/// Σ diameter × length of a fork's tines, m².
///
/// \param length_m of a tine that counts
template <class Length>
double tine_area_m2(const Fork& fork, const ForkGrip& grip, const Length& length_m) {
    double area_m2 = 0;
    for (std::size_t t = 0; t < fork.tines.size(); ++t)
        area_m2 += fork.tines[t].diameter_m * length_m(grip.tines[t]);
    return area_m2;
}

double bearing_area_m2(const Fork& fork, const ForkGrip& grip) {
    return tine_area_m2(fork, grip, [](const TineGrip& tine) { return std::max(0.0, tine.in_flesh_m()); });
}

double holding_area_m2(const Fork& fork, const ForkGrip& grip) {
    return tine_area_m2(fork, grip, [](const TineGrip& tine) { return tine.holds_m; });
}

void weigh_on_metal(ItemGrip& item, const Grip& grip, const Assembly& assembly, const ItemOnRod& on_rod,
                    double strength_pa) {
    double area_m2 = assembly.rod.width_m * total_length(item.rod_runs);
    for (const int index : item.forks) {
        const auto f = static_cast<std::size_t>(index);
        area_m2 += holding_area_m2(assembly.forks[f], grip.forks[f]);
    }
    item.weight_use.reset();
    item.hold_use.reset();
    if (item.basket_out_m) return;
    if (!(area_m2 > 0) || !(strength_pa > 0)) return;
    item.weight_use = on_rod.mass_kg * standard_gravity / (strength_pa * area_m2);
    item.hold_use = item.weight_use;
    for (const int f : item.forks) {
        const Fork& fork = assembly.forks[static_cast<std::size_t>(f)];
        for (const Tine& tine : fork.tines) {
            item.hold_use =
                std::max(*item.hold_use, pushes_together(*item.weight_use, item.torque_use.value_or(0),
                                                         tine_clock(fork, tine), on_rod.heavy_side_rad()));
        }
    }
}

}  // namespace

std::vector<double> weight_shares(const std::vector<double>& stations_m, double centre_m) {
    const auto n = static_cast<double>(stations_m.size());
    const auto [first, last] = std::minmax_element(stations_m.begin(), stations_m.end());
    if (*last - *first < limits::least_bite_m) return std::vector<double>(stations_m.size(), 1 / n);
    const double mean = std::accumulate(stations_m.begin(), stations_m.end(), 0.0) / n;
    double spread = 0;
    for (const double x : stations_m) spread += (x - mean) * (x - mean);
    std::vector<double> shares;
    shares.reserve(stations_m.size());
    for (const double x : stations_m) shares.push_back(1 / n + (x - mean) * (centre_m - mean) / spread);
    return shares;
}

std::vector<CarriedShare> carried_shares(const ItemGrip& held, const Grip& grip,
                                         const std::vector<Fork>& forks, double centre_m) {
    std::vector<CarriedShare> carried;
    double bearing_m2 = 0;
    for (const int index : held.forks) {
        const auto f = static_cast<std::size_t>(index);
        const double area_m2 = bearing_area_m2(forks[f], grip.forks[f]);
        bearing_m2 += area_m2;
        carried.push_back({.fork = index, .bearing_m2 = area_m2});
    }
    if (bearing_m2 > 0) std::erase_if(carried, [](const CarriedShare& c) { return !(c.bearing_m2 > 0); });
    if (carried.empty()) return carried;
    std::vector<double> middles;
    for (const CarriedShare& c : carried)
        middles.push_back(flesh_middle_m(grip.forks[static_cast<std::size_t>(c.fork)]));
    const std::vector<double> shares = weight_shares(middles, centre_m);
    const double left_m = centre_m - std::inner_product(shares.begin(), shares.end(), middles.begin(), 0.0);
    const auto even = 1 / static_cast<double>(carried.size());
    for (std::size_t k = 0; k < carried.size(); ++k) {
        CarriedShare& here = carried[k];
        const double part = bearing_m2 > 0 ? here.bearing_m2 / bearing_m2 : even;
        here.share = shares[k];
        here.lever_m =
            shares[k] * (middles[k] - forks[static_cast<std::size_t>(here.fork)].at_m) + part * left_m;
    }
    return carried;
}

double pushes_together(double upright, double round, double tine_rad, double heavy_side_rad) {
    const double mixed = upright * round * std::cos(heavy_side_rad - tine_rad);
    const double steady = upright * upright + round * round / 2 + mixed;
    const double swing =
        std::abs(round) * std::sqrt(std::max(0.0, round * round / 4 + upright * upright + mixed));
    return std::sqrt(steady + swing);
}

double flesh_middle_m(const ForkGrip& fork) {
    double length = 0, moment = 0;
    for (const TineGrip& tine : fork.tines) {
        length += tine.in_flesh_m();
        moment += tine.in_flesh_m() * tine.flesh_middle_m;
    }
    return length > 0 ? moment / length : fork.at_m;
}

void weigh(Grip& grip, const Assembly& assembly, const std::vector<ItemOnRod>& items) {
    grip.torque_use.reset();
    grip.torque_capacity_n_m.reset();
    std::vector<double> carried(grip.forks.size(), 0.0), held(grip.forks.size(), 0.0);
    for (std::size_t i = 0; i < grip.items.size(); ++i) {
        ItemGrip& item = grip.items[i];
        item.gravity_torque_n_m = standard_gravity * items[i].unbalance_kg_m().norm();
        item.torque_use.reset();
        for (const int f : item.forks) held[static_cast<std::size_t>(f)] += items[i].mass_kg;
        for (const CarriedShare& c : carried_shares(item, grip, assembly.forks, items[i].centre.x()))
            carried[static_cast<std::size_t>(c.fork)] += c.share * items[i].mass_kg;
        if (item.torque_capacity_n_m > 0)
            item.torque_use = item.gravity_torque_n_m / item.torque_capacity_n_m;
        weigh_on_metal(item, grip, assembly, items[i], least_bearing_strength_pa(assembly.items[i]));
        if (!item.torque_use || (grip.torque_use && *item.torque_use <= *grip.torque_use)) continue;
        grip.torque_use = item.torque_use;
        grip.torque_capacity_n_m = item.torque_capacity_n_m;
    }
    for (std::size_t f = 0; f < grip.forks.size(); ++f) {
        if (held[f] > 0) grip.forks[f].weight_share = carried[f] / held[f];
    }
}

}  // namespace evenspit
