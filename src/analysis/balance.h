// SPDX-License-Identifier: MIT
#pragma once

#include "analysis/placed.h"
#include "analysis/results.h"

namespace evenspit {

/// Mass of the whole rod, kg.
double rod_mass(const Rod& rod);

/// What a tine weighs, kg: a steel pin, and no more than its fork's mass leaves for it.
double tine_mass(const Fork& fork, const Tine& tine);

/// Centre of mass of a fork, rod frame, m. Its tines are weighed as steel pins; what is left of its mass sits
/// at the hub, on the axis. Opposite tines of one length cancel.
Vec3 fork_centre(const Fork& fork);

/// Items as they are at that end of the cook, forks, counterweights and the rod.
std::vector<TurningMass> turning_masses(const Assembly& assembly, Doneness end);

/// Static unbalance of all that, [y, z], kg m.
Vec2 unbalance_of(const Assembly& assembly, Doneness end);

/// Torque of a rod that turns on its own flats at its far end; see flats_torque().
struct FlatsTorque {
    int flats = 0;  ///< 0: none, it turns in a bushing or is round
    double peak_n_m = 0;
};

/// Sums them up: static unbalance, couple about the common centre, the motor's peak torque; no curve.
Balance balance(const std::vector<TurningMass>& masses, const Motor& motor, double friction_torque_n_m,
                const FlatsTorque& flats = {});

/// Motor torque at a turn angle, N m: T(θ) = g |U| cos(heavy side + θ) + friction, and where the rod turns on
/// its n flats what lifts it: from the peak just off a flat, through 0 on a corner, to minus the peak at the
/// next flat, peak · sin(π/n − φ) / sin(π/n) with φ from the flat before. At turn angle 0 it lies on a flat.
double motor_torque_at(const Balance& balance, double turn_rad);

/// Between which values that runs over a turn, N m; exact.
struct TorqueRange {
    double least_n_m = 0, greatest_n_m = 0;
};
TorqueRange torque_range(const Balance& balance);

/// Motor torque over a turn: [turn angle deg, N m], 0 … 359.
std::vector<std::array<double, 2>> torque_curve(const Balance& balance);

}  // namespace evenspit
