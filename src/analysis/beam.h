// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <vector>

namespace evenspit {

/// A weight that hangs at one station; newtons, down is positive.
struct PointLoad {
    double at_m = 0;
    double force_n = 0;
};

/// A couple that turns the beam at one station; newton metres, positive as a weight beyond it would.
struct PointCouple {
    double at_m = 0;
    double couple_n_m = 0;
};

/// A weight spread between two stations, in a straight line from one intensity to another; newtons per metre,
/// down is positive.
struct SpreadLoad {
    double from_m = 0;
    double to_m = 0;
    double force_n_m = 0;              ///< at the first station
    double end_force_n_m = force_n_m;  ///< at the last

    [[nodiscard]] double weight_n() const { return (force_n_m + end_force_n_m) / 2 * (to_m - from_m); }
    /// Its moment about station 0, N m.
    [[nodiscard]] double moment_n_m() const {
        const double length = to_m - from_m;
        return weight_n() * from_m + length * length * (force_n_m + 2 * end_force_n_m) / 6;
    }
};

/// A straight uniform beam carried at two stations, with free ends beyond them.
struct BeamProblem {
    double length_m = 0;
    std::array<double, 2> supports_m{};  ///< 0 ≤ first < second ≤ length
    double bending_stiffness_n_m2 = 0;   ///< E I, > 0
    std::vector<PointLoad> points;
    std::vector<SpreadLoad> spreads;
    std::vector<PointCouple> couples{};
};

/// A moment extreme: between breakpoints the moment is a cubic, so its extremes are known exactly.
struct BeamExtreme {
    double at_m = 0;
    double value = 0;
};

/// The exact solution of a BeamProblem (Euler–Bernoulli, small slopes).
///
/// Moment and displacement are sums of Macaulay brackets: R⟨x−a⟩, C⟨x−a⟩⁰, W⟨x−a⟩³/6, w⟨x−a⟩⁴/24 …
/// (Clebsch/Macaulay 1919; any text on strength of materials). Nothing is discretised.
class Beam {
  public:
    /// \throws std::invalid_argument if supports are not in order and on the beam, stiffness or length is not
    /// positive, or a load is not finite, not in order, or not on the beam.
    explicit Beam(BeamProblem problem);

    /// Upward forces at the supports, N: first, second.
    [[nodiscard]] const std::array<double, 2>& reactions() const { return reactions_; }
    /// Bending moment, N m; positive bends the beam hollow side up (sagging). Where a couple sits, just
    /// before it.
    [[nodiscard]] double moment(double x) const;
    /// Downward displacement, m.
    [[nodiscard]] double sag(double x) const;
    /// The same in a time that does not grow with the loads, but for log n: from what all before a breakpoint
    /// add up to. Off by rounding, as far as it adds up along the beam; see quick_sag_error_m().
    [[nodiscard]] double quick_sag(double x) const;
    /// By no more is a quick sag off on the beam, m.
    [[nodiscard]] double quick_sag_error_m() const;
    /// The moment in a time that does not grow with the loads, but for log n, likewise off by rounding.
    [[nodiscard]] double quick_moment(double x) const;
    /// By no more is a quick moment off on the beam, N m.
    [[nodiscard]] double quick_moment_error_n_m() const;
    /// No |moment| within [from, to], a stretch between two neighbouring breakpoints, is greater, N m; as
    /// quick.
    [[nodiscard]] double most_moment(double from, double to) const;
    /// How fast it goes down along the beam, rad.
    [[nodiscard]] double slope(double x) const;
    /// Stations where the loading changes, in order, ends included.
    [[nodiscard]] const std::vector<double>& breakpoints() const { return breakpoints_; }
    /// Where |moment| is largest within [from, to]; a stretch between two neighbouring breakpoints.
    [[nodiscard]] BeamExtreme largest_moment(double from, double to) const;
    /// The largest downward displacement; value 0 if the beam nowhere goes down.
    [[nodiscard]] BeamExtreme largest_sag() const;
    /// No curvature of the bent beam is greater, 1/m.
    [[nodiscard]] double most_curved() const;

  private:
    [[nodiscard]] double shear(double x) const;
    [[nodiscard]] double couples_at(double x) const;
    [[nodiscard]] std::size_t last_breakpoint_before(double x) const;
    [[nodiscard]] double curvature_from(std::size_t k, double x) const;  // by the k-th breakpoint's powers
    [[nodiscard]] double cubic_sum(double x) const;
    void add_up();

    BeamProblem problem_;
    std::array<double, 2> reactions_{};
    std::vector<double> breakpoints_;
    double slope_ = 0, offset_ = 0;  // constants of integration, N m² and N m³
    /// From a breakpoint to the next: the sag in powers of the way from it.
    using Powers = std::array<double, 6>;
    std::vector<Powers> powers_;
    double curved_ = 0;  // as most_curved(), from the moments themselves
};

}  // namespace evenspit
