// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "load/assembly.h"

namespace evenspit {

/// All that a plan may change about a load: where things sit.
struct Arrangement {
    std::vector<Seat> seats{};  ///< one per item
    std::vector<Fork> forks{};  ///< stations, facing and clocks may differ, the forks are the same
    std::vector<Counterweight> counterweights{};
};

/// The places of everything in a load.
Arrangement arrangement_of(const Assembly& assembly);

/// The load with everything in those places; poses follow the seats. A roll test of anything that is moved
/// counts no more.
///
/// \pre as many seats as items
Assembly with_arrangement(Assembly assembly, const Arrangement& arrangement);

/// Whether all that was on the rod in a roll test sits in both in the same place.
bool undisturbed(const RollTest& test, const Arrangement& before, const Arrangement& after);

/// Whether a counterweight of the same mass sits in the same place there.
bool has(const Arrangement& arrangement, const Counterweight& weight);

/// Item frame → rod frame, for the item in that seat.
Pose pose_in(const Item& item, const Seat& seat);

/// Whether a body sits on a rod that reaches from 0 to its length: the seat's station does, or, of a scan
/// that keeps its origin beside itself, the station of the body's end that is nearest to the origin.
bool sits_on_rod(const Seat& seat, double x_min, double x_max, double rod_length_m);

/// The length as a load file holds it when it says so many whole millimetres, and the same for angles: what
/// is evaluated is to the last bit what is written and read back.
double whole_mm(double length_m);
double whole_degrees(double angle_rad);  ///< 0 ≤ a < 360 deg

/// A seat whose station, line and turn are whole millimetres and degrees wherever they differ from `before`.
Seat settled(Seat seat, const Seat& before);

/// A station in whole millimetres, or just where it was if that is the same place.
double settled_place(double wanted_m, double before_m);

/// In what steps a fork can be turned on the rod, rad: those of the rod's section where its bore has that
/// shape, else 5° (common practice, no source), for nothing but its clamp holds it.
double fork_clock_step(const Fork& fork, const Rod& rod);

/// The fork turned about the rod by a whole number of degrees.
Fork turned(Fork fork, double angle_rad);

}  // namespace evenspit
