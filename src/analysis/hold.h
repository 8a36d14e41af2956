// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "analysis/beam.h"
#include "analysis/placed.h"
#include "analysis/results.h"

namespace evenspit {

/// Force with which a clamp's screw presses on the rod, N.
///
/// A screw that bears on its tip: torque = force · (d₂/2 · tan(lead + ρ′) + µ · ⅔ · 0.35 d), µ 0.15 (steel on
/// steel, as it comes), metric coarse thread (ISO 261, from memory).
double clamp_force(const Clamp& clamp);

/// What a clamp holds against turning round the rod, N m, and against sliding along it, N: the screw's tip
/// and the wall opposite both rub, µ 0.10 for greased steel.
double clamp_torque(const Clamp& clamp, const Rod& rod);
double clamp_thrust(const Clamp& clamp);

/// Puts into a weighed grip how its metal holds: clamps against turning (where the bore is not the rod's own
/// shape) and against sliding, and tines against bending.
///
/// Sliding: the weight on the slope of the sagged rod and 2° out of level (common practice), against the
/// clamps of all forks that hold the item. Bending: a tine is a pin fixed in its hub. The item hangs on its
/// tines; each takes its part of its fork's couple about the hub (carried_shares()) and of the item's torque,
/// in proportion to what it presses on, and what torque presses sits in the middle of its flesh. At the worst
/// angle of a turn. A bracket's legs are bent by its share of the weight and by the torque, as if their plate
/// held nothing. Against 400 MPa (0.2 % proof strength of drawn 1.4301, EN 10088-3, condition 2H, from
/// memory; tines are drawn wire).
void hold(Grip& grip, const Assembly& assembly, const std::vector<ItemOnRod>& items, const Beam& beam);

}  // namespace evenspit
