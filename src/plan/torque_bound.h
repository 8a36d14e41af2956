// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>

#include "body/matter.h"
#include "load/assembly.h"
#include "plan/unbalance.h"
#include "units/standard_gravity.h"

namespace evenspit::plan {

/// The peak gravity torque of a load for one rod line after another through one of its items, a little low:
/// in a few multiplications what item_unbalance() finds by moving the body.
///
/// In the plane across x through the item's centre of mass it stands off the line by q = (q_y, q_z), linear
/// in the line's offsets. The short way that brings the line's direction a onto the rod makes of that, less
/// what lies along the line, q − (q·a) / (1 + a_x) · (a_y, a_z) (Rodrigues' formula).
class TorqueBound {
  public:
    /// \param rest of everything else on the rod, rod frame
    TorqueBound(const Item& item, const std::array<body::Matter, cook_ends>& masses, const Seat& seat,
                const Unbalances& rest);

    /// No more than the peak gravity torque at the worse end of the cook, N m, and no less by more than 2e-9
    /// of it and 2e-9 N m.
    [[nodiscard]] double least(const RodLine& line) const {
        return std::max(0.0,
                        most_share * standard_gravity * std::sqrt(squared_unbalance(line)) - allowance_n_m);
    }
    /// What least() changes by at most for each metre that a line's far end (`to`) moves, N m/m, among lines
    /// whose ends are no further than `reach_m` from those of this one.
    [[nodiscard]] double most_change(const RodLine& line, double reach_m) const;

  private:
    // Rounding of bodies of a kitchen's size is a thousandth of that.
    static constexpr double most_share = 1 - 1e-9, allowance_n_m = 1e-9;

    [[nodiscard]] double squared_unbalance(const RodLine& line) const {
        const Vec2 run = line.to - line.from;
        const double squared = length_m_ * length_m_ + run.squaredNorm();
        const double lean = 1 / (squared + length_m_ * std::sqrt(squared));
        const auto squared_at = [&](const End& end) {
            const Vec2 off = end.centre_m - line.from - end.share * run;
            return (end.mass_kg * (off - lean * off.dot(run) * run) + end.rest_kg_m).squaredNorm();
        };
        const double raw = squared_at(ends_[0]);
        return is_cooked_ ? std::max(raw, squared_at(ends_[1])) : raw;
    }

    struct End {
        double mass_kg;
        double share;    // of the way along the body at which the centre stands
        Vec2 centre_m;   // y, z
        Vec2 rest_kg_m;  // in the item's axes
    };
    double length_m_;
    bool is_cooked_;  // both ends differ
    std::array<End, cook_ends> ends_;
};

}  // namespace evenspit::plan
