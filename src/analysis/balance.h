// SPDX-License-Identifier: MIT
#pragma once

#include "analysis/placed.h"
#include "analysis/results.h"

namespace evenspit {

/// One thing that turns with the rod.
struct TurningMass {
    double mass_kg = 0;
    Vec3 centre = Vec3::Zero();  ///< rod frame, m
};

/// Mass of the whole rod, kg.
double rod_mass(const Rod& rod);

/// Centre of mass of a fork, rod frame, m. Its tines are weighed as steel pins; what is left of its mass sits
/// at the hub, on the axis. Opposite tines of one length cancel.
Vec3 fork_centre(const Fork& fork);

/// Items, forks, counterweights and the rod.
std::vector<TurningMass> turning_masses(const Assembly& assembly, const std::vector<PlacedItem>& placed);

/// Sums them up: static unbalance, couple about the common centre, motor torque over a turn
/// T(θ) = g |U| cos(heavy side + θ) + friction.
Balance balance(const std::vector<TurningMass>& masses, const Motor& motor, double friction_torque_n_m);

}  // namespace evenspit
