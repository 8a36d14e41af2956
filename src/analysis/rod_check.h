// SPDX-License-Identifier: MIT
#pragma once

#include "analysis/beam.h"
#include "analysis/placed.h"
#include "analysis/results.h"

namespace evenspit {

/// A static unbalance that hands its torque to the rod at a station.
struct TorqueEntry {
    double at_m = 0;
    Vec2 unbalance_kg_m = Vec2::Zero();
};

/// All that bends and twists the rod.
struct RodLoading {
    std::vector<PointLoad> points;
    std::vector<SpreadLoad> spreads;
    std::vector<TorqueEntry> torques;
};

/// How everything on the rod enters it: an item at the hubs of the forks that hold it, by weight_shares();
/// with one fork at its hub and at the body's far end; with none evenly over the body's length; forks and
/// counterweights at their stations; the rod's own weight along its length. An item's torque enters at its
/// forks in proportion to their torque capacity.
RodLoading rod_loading(const Assembly& assembly, const std::vector<PlacedItem>& placed, const Grip& grip);

/// The rod with that on it, its stiffness taken at the rod's temperature.
Beam rod_beam(const Rod& rod, const RodLoading& loading);

/// Torque of friction at both supports, N m: as given, or coefficient · (|R₁| + |R₂|) · radius of the circle
/// the rod's section turns in (a square rod is carried by its corners).
double friction_torque(const Motor& motor, const Rod& rod, const std::array<double, 2>& reactions_n);

/// Reactions, sag, and the worst stress: σ = M / S with the section in its worst attitude, τ = T / W_t,
/// together √(σ² + 3τ²) (von Mises). T at a station is what everything beyond it takes at the worst turn
/// angle, friction at the far bearing included.
RodResult rod_result(const Rod& rod, const RodLoading& loading, const Beam& beam, double friction_torque_n_m);

}  // namespace evenspit
