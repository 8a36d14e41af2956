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

}  // namespace evenspit
