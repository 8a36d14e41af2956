// SPDX-License-Identifier: MIT
#include "analysis/knock.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "analysis/balance.h"

namespace evenspit {
namespace {

constexpr double poissons_ratio = 0.3;
/// A load right beside the drive seat twists at least that much rod, m. Common practice: half a hub.
constexpr double least_twisted_m = 0.005;

/// About the rod, of an item's shape, its mass as it is now.
double item_inertia(const Item& item, const ItemOnRod& on_rod) {
    const Moments& mass = item.body->mass;
    const Mat3 second = item.pose.linear() * mass.second * item.pose.linear().transpose();
    const double own = (second(1, 1) + second(2, 2)) / mass.amount * item.off.scale * item.off.scale;
    return on_rod.mass_kg * (own + on_rod.centre.tail<2>().squaredNorm());
}

}  // namespace

DriveTrain drive_train(const Assembly& assembly, const std::vector<ItemOnRod>& items) {
    const Rod& rod = assembly.rod;
    const SectionProperties section = section_properties(rod.section, rod.width_m);
    DriveTrain train{.inertia_kg_m2 =
                         2 * section.second_moment_m4 * rod.length_m * rod.material.density_kg_m3};
    double mass = 0, moment = 0;
    for (std::size_t i = 0; i < items.size(); ++i) {
        train.inertia_kg_m2 += item_inertia(assembly.items[i], items[i]);
        mass += items[i].mass_kg;
        moment += items[i].mass_kg * items[i].centre.x();
    }
    for (const Fork& fork : assembly.forks) {
        for (const Tine& tine : fork.tines)
            train.inertia_kg_m2 += tine_mass(fork, tine) * tine.radius_m * tine.radius_m;
    }
    for (const Counterweight& weight : assembly.counterweights) {
        // A round disc about its own axis has an eighth of m d².
        train.inertia_kg_m2 +=
            weight.mass_kg * (weight.radius_m * weight.radius_m + weight.diameter_m * weight.diameter_m / 8);
    }
    const double centre = mass > 0 ? moment / mass : rod.length_m / 2;
    const double shear = rod.material.modulus_at(rod.temperature_k) / (2 * (1 + poissons_ratio));
    const double twisted = std::max(least_twisted_m, std::abs(centre - rod.supports_m[0]));
    double yielding = twisted / (shear * section.torsion_constant_m4);
    if (assembly.motor.drive_stiffness_n_m_rad) yielding += 1 / *assembly.motor.drive_stiffness_n_m_rad;
    train.stiffness_n_m_rad = 1 / yielding;
    return train;
}

std::optional<double> knock_torque(const DriveTrain& train, double gravity_n_m, double friction_n_m,
                                   double speed_rad_s, double play_rad) {
    if (!(gravity_n_m > friction_n_m) || !(train.inertia_kg_m2 > 0)) return std::nullopt;
    // The heavy side has passed the top so far that gravity pulls as hard as friction holds.
    const double start = std::acos(-friction_n_m / gravity_n_m);
    const auto pull = [&](double angle) {
        return -(gravity_n_m * std::cos(angle) + friction_n_m) / train.inertia_kg_m2;
    };
    const double step = std::sqrt(train.inertia_kg_m2 / gravity_n_m) / 50;
    double ahead = 0, faster = 0, time = 0;  // of the drive
    const double turn_s = 2 * std::numbers::pi / speed_rad_s;
    while (time < turn_s) {
        const auto at = [&](double t, double a) { return pull(start + speed_rad_s * t + a); };
        const double k1 = at(time, ahead), k2 = at(time + step / 2, ahead + step / 2 * faster),
                     k3 = at(time + step / 2, ahead + step / 2 * (faster + step / 2 * k1)),
                     k4 = at(time + step, ahead + step * (faster + step / 2 * k2));
        const double before = ahead, slower = faster;
        ahead += step * faster + step * step / 6 * (k1 + k2 + k3);
        faster += step / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
        time += step;
        const bool taken_up = ahead >= play_rad;
        if (!taken_up && (ahead > 0 || faster >= 0)) continue;
        const double end = taken_up ? play_rad : 0;
        if (ahead != before)
            faster = std::lerp(slower, faster, std::clamp((end - before) / (ahead - before), 0.0, 1.0));
        break;
    }
    return std::sqrt(train.stiffness_n_m_rad * train.inertia_kg_m2) * std::abs(faster);
}

}  // namespace evenspit
