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

/// Sums them up: static unbalance, couple about the common centre, the motor's peak torque; no curve.
Balance balance(const std::vector<TurningMass>& masses, const Motor& motor, double friction_torque_n_m);

/// Motor torque over a turn, T(θ) = g |U| cos(heavy side + θ) + friction: [turn angle deg, N m], 0 … 359.
std::vector<std::array<double, 2>> torque_curve(const Balance& balance);

}  // namespace evenspit
