// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "analysis/placed.h"

namespace evenspit {

/// Flesh that is shorter than this is grazed, not gripped.
inline constexpr double grazed_m = 1e-4;

/// What a pin or the rod passes through inside one item. Lengths are real ones, whatever the scan's scale.
struct Passage {
    std::vector<Interval> skin;  ///< inside the body: flesh, bone and cavity; from where the line begins, m
    std::vector<Interval> firm;  ///< the same without cavities and what fills them
    double in_bone_m = 0;
    double in_cavity_m = 0;
};

/// What lies in an item between two places, rod frame, m.
Passage passage(const Item& item, const Vec3& from, const Vec3& to);

/// What a tine or a leg meets in an item.
struct PinMet {
    Passage through;
    /// Flesh beside and ahead of it; see grip(). Absent for a leg, and where it does not enter.
    std::optional<double> cover_m{};
};
PinMet pin_met(const Item& item, const Fork& fork, const Tine& tine);

/// The rod's axis from a little before an item to a little beyond it, rod frame, m; and what it passes
/// through.
PinLine rod_line_through(const ItemOnRod& on_rod);
Passage rod_passage(const Item& item, const ItemOnRod& on_rod);

/// Stations between which the rod's axis runs through an item, cavities with the flesh behind them.
std::vector<Interval> rod_stretches(const Item& item);

/// The longest way through a bone among the rod's axis and lines along its edges.
struct RodInBone {
    double longest_m = 0;
    std::size_t part = 0;  ///< of Body::parts, where there is such a way
};
RodInBone rod_in_bone(const Item& item, const ItemOnRod& on_rod, double rod_radius_m);

/// The least flesh over a rod that pierces a body.
struct RodCover {
    double least_m = 0;  ///< at right angles to the rod, from its surface to the skin; 0 where it is out
    Vec3 skin = Vec3::Zero();  ///< there; rod frame, m
};
/// From limits::entry_stretch_m behind where the rod enters to as much before it leaves, each time it does
/// (it may go in and out of what is folded on it); of what is short, a quarter of its length. Absent where it
/// passes beside, and for bodies with a hollow, which the rod lies in.
///
/// \param stretches see rod_stretches()
std::optional<RodCover> rod_cover(const Item& item, const std::vector<Interval>& stretches,
                                  double rod_radius_m);

/// How far the rod's axis passes beside an item's skin, m. \pre it does not run through
double rod_beside_m(const Item& item, const ItemOnRod& on_rod);

}  // namespace evenspit
