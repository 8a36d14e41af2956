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

  private:
    friend class TorqueSieve;

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

/// Which lines may have less than some peak gravity torque, in a tenth of the time that TorqueBound::least()
/// takes, and of lines in a row at once.
///
/// The way that brings a line onto the rod shortens what a body stands off it by a share of κ = ρ² / 2 at
/// most, ρ being the line's rise for its length. Without that, unbalance is linear in the line's offsets.
class TorqueSieve {
  public:
    /// \param bound lives as long as this does
    TorqueSieve(const TorqueBound& bound, double most_n_m);

    /// No, only if least() of the line is `most_n_m` or more.
    [[nodiscard]] bool passes(const RodLine& line) const {
        const Vec2 run = line.to - line.from;
        const double kappa = kappa_of(run.squaredNorm());
        for (std::size_t end = 0; end < ends_; ++end) {
            const Vec2 off = unbalance(end, line);
            const double limit = most_kg_m_ + kappa * rest_kg_m_[end], left = 1 - kappa;
            if (left > 0 && off.squaredNorm() * left * left > limit * limit * (1 + rounding)) return false;
        }
        return true;
    }

    /// Lines whose far ends stand in rows, one beside the other.
    struct Rows {
        RodLine first{};
        Eigen::Index axis = 1;  ///< along which a row runs, 0 or 1; rows are counted along the other
        double step_m = 0;      ///< along both, > 0
        int rows = 1, count = 1;
    };
    /// Tells of each row in turn between which numbers all stand that may pass: calls row(r, from, to),
    /// unless there is none. `from` and `to` lie anywhere between 0 and count − 1.
    template <class Row>
    void for_passing(const Rows& lines, const Row& row) const {
        const Eigen::Index across = 1 - lines.axis;
        // No line rises more than one of those at the corners.
        Vec2 run = (lines.first.to - lines.first.from).cwiseAbs(), last = lines.first.to - lines.first.from;
        last[lines.axis] += (lines.count - 1) * lines.step_m;
        last[across] += (lines.rows - 1) * lines.step_m;
        const double kappa = kappa_of(run.cwiseMax(last.cwiseAbs()).squaredNorm());
        std::array<Disc, cook_ends> discs;
        for (std::size_t end = 0; end < ends_; ++end) discs[end] = disc(end, lines, kappa);
        for (int r = 0; r < lines.rows; ++r) {
            double from = 0, to = lines.count - 1;
            for (std::size_t end = 0; kappa < 1 && end < ends_; ++end) {
                const Disc& d = discs[end];
                const double off = d.across - r * d.step, room = d.squared_limit - off * off;
                if (room < 0) {
                    to = -1;
                    break;
                }
                // From one side of the disc to the other, as far as one moves along it.
                const double half = std::sqrt(room) * d.per_step + hair;
                from = std::max(from, d.middle - half);
                to = std::min(to, d.middle + half);
            }
            if (from <= to) row(r, from, to);
        }
    }

  private:
    static constexpr double rounding = 1e-9;
    static constexpr double hair = 1e-6;  // for what rounding does to a place in a row

    // Within what unbalance lies below the limit, as seen from the first of some lines.
    struct Disc {
        double squared_limit = 0, across = 0;  // kg m
        double step = 0;                       // across, for each row
        double middle = 0, per_step = 0;       // along a row, in steps
    };
    [[nodiscard]] Disc disc(std::size_t end, const Rows& lines, double kappa) const;

    [[nodiscard]] double kappa_of(double squared_run_m2) const { return squared_run_m2 * per_length2_; }
    // As it would be without the turn, kg m.
    [[nodiscard]] Vec2 unbalance(std::size_t end, const RodLine& line) const {
        const TorqueBound::End& e = bound_.ends_[end];
        return e.mass_kg * (e.centre_m - line.from - e.share * (line.to - line.from)) + e.rest_kg_m;
    }

    const TorqueBound& bound_;
    std::size_t ends_;        // that differ
    double per_length2_ = 0;  // half of it
    double most_kg_m_ = 0;
    std::array<double, cook_ends> rest_kg_m_{};
};

}  // namespace evenspit::plan
