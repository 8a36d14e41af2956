// SPDX-License-Identifier: MIT
#include "analysis/roll_stand.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "analysis/balance.h"
#include "analysis/normal_share.h"
#include "analysis/placed.h"
#include "analysis/rod_check.h"
#include "units/standard_gravity.h"

namespace evenspit {
namespace {

using std::numbers::pi;

constexpr double rolling_share = 0.1;
/// The far bearing carries at least that share of a load, as far as a torque that is given for it is scaled.
constexpr double least_far_share = 0.25;
/// Nobody reads a clock more closely, rad.
constexpr double closest_reading_rad = 1e-3;
constexpr double blind_share = 1e-9;

/// What was on the rod.
Assembly as_rolled(const Assembly& load, const RollTest& test) {
    Assembly rolled = load;
    rolled.counterweights.clear();
    for (const std::size_t on : test.counterweights) rolled.counterweights.push_back(load.counterweights[on]);
    return rolled;
}

}  // namespace

Vec2 rolled_unbalance(const Assembly& load, const RollTest& test) {
    Vec2 sum = Vec2::Zero();
    for (const TurningMass& m : item_masses(load, Doneness::raw)) sum += m.unbalance_kg_m();
    for (const Fork& fork : load.forks) sum += fork.mass_kg * fork_centre(fork).tail<2>();
    for (const std::size_t on : test.counterweights) {
        const Counterweight& weight = load.counterweights[on];
        sum += weight.mass_kg * rod_point(weight.at_m, weight.radius_m, weight.clock_rad).tail<2>();
    }
    return sum;
}

double stand_friction_n_m(const Assembly& load, const RollTest& test, bool hung) {
    double mass_kg = 0, moment_kg_m = 0;
    for (const TurningMass& m : turning_masses(as_rolled(load, test), Doneness::raw)) {
        mass_kg += m.mass_kg;
        moment_kg_m += m.mass_kg * m.centre.x();
    }
    if (hung && test.hung) {
        // Where along the rod it hung is not known; with the rest's centre the shares stay.
        moment_kg_m += test.hung->mass_kg * moment_kg_m / mass_kg;
        mass_kg += test.hung->mass_kg;
    }
    const auto [drive, far] = load.rod.supports_m;
    const double far_n = standard_gravity * (moment_kg_m - mass_kg * drive) / (far - drive);
    const double drive_n = standard_gravity * mass_kg - far_n;
    const double both_n = std::abs(drive_n) + std::abs(far_n);
    const double torque =
        friction_torque(load.motor, load.rod, {drive_n, far_n}) *
        (both_n /
         std::max(std::abs(far_n), load.motor.friction_torque_n_m ? least_far_share * both_n : 1e-9));
    return test.on == RollsOn::rollers ? rolling_share * torque : torque;
}

double rest_band_rad(double friction_n_m, double gravity_n_m) {
    return friction_n_m >= gravity_n_m ? pi : std::asin(std::max(0.0, friction_n_m) / gravity_n_m);
}

double rest_density(double off_rad, double band_rad, double read_rad) {
    constexpr double anywhere = 1 / (2 * pi);
    if (band_rad >= pi) return anywhere;
    const double read = std::max(read_rad, closest_reading_rad), off = std::remainder(off_rad, 2 * pi);
    double density = 0;
    for (const double turn : {-2 * pi, 0.0, 2 * pi}) {
        const double at = std::abs(off + turn);
        if (at > band_rad + 12 * read) continue;
        if (band_rad < 0.01 * read) {
            density += std::exp(-at * at / (2 * read * read)) / (read * std::sqrt(2 * pi));
        } else {
            density += (normal_share((band_rad - at) / read) - normal_share((-band_rad - at) / read)) /
                       (2 * band_rad);
        }
    }
    return (1 - blind_share) * density + blind_share * anywhere;
}

}  // namespace evenspit
