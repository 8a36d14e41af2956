// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <functional>
#include <vector>

namespace evenspit::plan {

/// An item with the forks that hold it: one piece that is moved along the rod. Stations are from the item's
/// origin, m.
struct RodBlock {
    double from_m = 0, to_m = 0;  ///< of all of it: body, hubs, tines
    double at_m = 0;              ///< where it sits now
    /// How much radius is left at the tightest place with the origin at a station, m (negative: too little).
    std::function<double(double)> room_m;
};

/// The stretch of the rod to fill.
struct RodStretch {
    std::array<double, 2> usable_m{};
    std::vector<std::array<double, 2>> taken_m{};  ///< stretches where nothing may sit (what stays there)
    std::array<double, 2> fire_m{};                ///< to stay over; empty (first ≥ second) if not known
};

struct StationsFound {
    std::vector<double> at_m;  ///< one per block, as given; whole millimetres where it moved
    double overflow_m = 0;     ///< by how much the blocks stand out of the usable stretch or into one another
    double room_m = 0;         ///< the least over the blocks
};

/// Stations for blocks in the order given, first nearest to the drive.
///
/// Sought in this order: all on the usable stretch and apart from one another, room all round, over the fire,
/// and little moving. Exact by dynamic programming over stations 5 mm apart (and the present ones), then by
/// the millimetre round the best.
StationsFound find_stations(const std::vector<RodBlock>& blocks, const RodStretch& stretch);

}  // namespace evenspit::plan
