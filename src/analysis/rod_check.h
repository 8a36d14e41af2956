// SPDX-License-Identifier: MIT
#pragma once

#include "analysis/balance.h"
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
    std::vector<PointCouple> couples{};
    std::vector<TorqueEntry> torques;
};

/// How everything on the rod enters it: forks and counterweights at their stations, the rod's own weight
/// along its length, and an item in one of two ways.
///
/// By its tines: each fork that holds it takes its share, a force and a couple at the clamped hub
/// (carried_shares()). Lying on the rod: a load along the runs of the rod through flesh and bone, linear in
/// station, its resultant at the centre of mass; where it would have to pull up it is cut to push only, and
/// the forks' hubs take the couple that is left. An item that no fork holds lies on the rod either way, along
/// its whole length where the rod meets none of it; one that forks hold and the rod does not meet hangs
/// either way.
///
/// An item's torque enters at its forks in proportion to their torque capacity.
RodLoading rod_loading(const Assembly& assembly, const std::vector<ItemOnRod>& items, const Grip& grip,
                       Carried way);

/// The rod with that on it, its stiffness taken at the rod's temperature.
Beam rod_beam(const Rod& rod, const RodLoading& loading);

/// Torque of friction, N m: as given, or coefficient · |R| · radius at the far bearing, where alone the rod
/// slides; the motor's seat turns with it. The radius is that of the circle the section turns in, the
/// bushing's bore (a square rod is carried by its corners).
double friction_torque(const Motor& motor, const Rod& rod, const std::array<double, 2>& reactions_n);

/// What lifts a rod that turns at its far end on its own flats, without a bushing: its middle is r cos(π/n −
/// φ) above what it lies on, r half its diagonal and φ its angle off a flat, so that lifting it takes |R| r
/// sin(π/n) at most, half a side of leverage.
FlatsTorque flats_torque(const Rod& rod, const std::array<double, 2>& reactions_n);

/// Reactions, sag, and the worst stress: σ = M / S with the section in its worst attitude, τ = T / W_t,
/// together √(σ² + 3τ²) (von Mises). T at a station is what everything beyond it takes at the worst turn
/// angle, what the far bearing takes included. No curves.
RodResult rod_result(const Rod& rod, const RodLoading& loading, const Beam& beam, double far_torque_n_m);

/// Sag and moment along the rod, at 201 even stations and wherever the loading changes.
void add_curves(RodResult& result, const Rod& rod, const RodLoading& loading, const Beam& beam);

}  // namespace evenspit
