// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <vector>

#include "load/arrangement.h"
#include "roast/cook_ends.h"

namespace evenspit::plan {

/// Static unbalance [y, z] in the rod frame at both ends of the cook, kg m.
using Unbalances = std::array<Vec2, cook_ends>;

/// Nothing.
inline Unbalances no_unbalance() {
    return {Vec2::Zero(), Vec2::Zero()};
}
Unbalances operator+(const Unbalances& a, const Unbalances& b);
/// Turned about the rod.
Unbalances rotated(const Unbalances& unbalances, double angle_rad);
/// Size at the worse end, kg m.
double worst_size(const Unbalances& unbalances);

/// Static unbalance Σ m e of one item in a seat.
///
/// Exact: the centres are moved with the body, tilt and all; costs no more than a change of frame.
Unbalances item_unbalance(const Item& item, const std::array<body::Matter, cook_ends>& masses,
                          const Seat& seat);

/// Of things that the cook does not change: the same at both ends.
Unbalances fork_unbalance(const std::vector<Fork>& forks);
Unbalances counterweight_unbalance(const std::vector<Counterweight>& weights);

/// An unbalance at a station.
struct UnbalanceAt {
    double at_m = 0;
    Vec2 unbalance_kg_m = Vec2::Zero();
};

/// The unbalances to add in two planes across the rod so that neither the static unbalance nor the couple of
/// `given` is left: U_A + U_B = −Σ U, z_A U_A + z_B U_B = −Σ z U (statics).
///
/// The couple makes no gravity torque and can stay; a split over two planes only keeps the rod from being
/// twisted over its length.
///
/// \throws std::invalid_argument if the planes coincide
std::array<Vec2, 2> two_plane_correction(const std::vector<UnbalanceAt>& given, double plane_a_m,
                                         double plane_b_m);

}  // namespace evenspit::plan
