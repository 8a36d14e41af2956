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

/// A weight spread evenly between two stations; newtons per metre, down is positive.
struct SpreadLoad {
    double from_m = 0;
    double to_m = 0;
    double force_n_m = 0;
};

/// A straight uniform beam carried at two stations, with free ends beyond them.
struct BeamProblem {
    double length_m = 0;
    std::array<double, 2> supports_m{};  ///< 0 ≤ first < second ≤ length
    double bending_stiffness_n_m2 = 0;   ///< E I, > 0
    std::vector<PointLoad> points;
    std::vector<SpreadLoad> spreads;
};

/// A moment extreme: between breakpoints the moment is a parabola, so its extremes are known exactly.
struct BeamExtreme {
    double at_m = 0;
    double value = 0;
};

/// The exact solution of a BeamProblem (Euler–Bernoulli, small slopes).
///
/// Moment and displacement are sums of Macaulay brackets: R⟨x−a⟩, W⟨x−a⟩³/6, w⟨x−a⟩⁴/24 … (Clebsch/Macaulay
/// 1919; any text on strength of materials). Nothing is discretised.
class Beam {
  public:
    /// \throws std::invalid_argument if supports are not in order and on the beam, stiffness or length is not
    /// positive, or a load is not finite, not in order, or not on the beam.
    explicit Beam(BeamProblem problem);

    /// Upward forces at the supports, N: first, second.
    [[nodiscard]] const std::array<double, 2>& reactions() const { return reactions_; }
    /// Bending moment, N m; positive bends the beam hollow side up (sagging).
    [[nodiscard]] double moment(double x) const;
    /// Downward displacement, m.
    [[nodiscard]] double sag(double x) const;
    /// Stations where the loading changes, in order, ends included.
    [[nodiscard]] const std::vector<double>& breakpoints() const { return breakpoints_; }
    /// Where |moment| is largest within [from, to]; a stretch between two neighbouring breakpoints.
    [[nodiscard]] BeamExtreme largest_moment(double from, double to) const;
    /// The largest downward displacement; value 0 if the beam nowhere goes down.
    [[nodiscard]] BeamExtreme largest_sag() const;

  private:
    [[nodiscard]] double shear(double x) const;
    [[nodiscard]] double cubic_sum(double x) const;

    BeamProblem problem_;
    std::array<double, 2> reactions_{};
    std::vector<double> breakpoints_;
    double slope_ = 0, offset_ = 0;  // constants of integration, N m² and N m³
};

}  // namespace evenspit
