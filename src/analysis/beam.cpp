// SPDX-License-Identifier: MIT
#include "analysis/beam.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace evenspit {
namespace {

/// Macaulay's bracket ⟨x⟩ⁿ.
double bracket(double x, int power) {
    if (x <= 0) return 0;
    double value = 1;
    for (int i = 0; i < power; ++i) value *= x;
    return value;
}

/// Every comparison is written so that NaN fails it.
void require_sound(const BeamProblem& problem) {
    const auto [a, b] = problem.supports_m;
    const double length = problem.length_m;
    if (!(length > 0 && problem.bending_stiffness_n_m2 > 0 && a >= 0 && a < b && b <= length)) {
        throw std::invalid_argument("a beam needs a length, a stiffness, and two supports in order on it");
    }
    for (const PointLoad& load : problem.points) {
        if (!(load.at_m >= 0 && load.at_m <= length && std::isfinite(load.force_n))) {
            throw std::invalid_argument("a load must be finite and hang on the beam");
        }
    }
    for (const SpreadLoad& load : problem.spreads) {
        if (!(load.from_m >= 0 && load.from_m <= load.to_m && load.to_m <= length &&
              std::isfinite(load.force_n_m))) {
            throw std::invalid_argument("a spread load must be finite, in order, and lie on the beam");
        }
    }
}

}  // namespace

Beam::Beam(BeamProblem problem) : problem_(std::move(problem)) {
    require_sound(problem_);
    const auto [a, b] = problem_.supports_m;
    double force = 0, moment_about_first = 0;
    breakpoints_ = {0, a, b, problem_.length_m};
    for (const PointLoad& load : problem_.points) {
        force += load.force_n;
        moment_about_first += load.force_n * (load.at_m - a);
        breakpoints_.push_back(load.at_m);
    }
    for (const SpreadLoad& load : problem_.spreads) {
        const double weight = load.force_n_m * (load.to_m - load.from_m);
        force += weight;
        moment_about_first += weight * ((load.from_m + load.to_m) / 2 - a);
        breakpoints_.push_back(load.from_m);
        breakpoints_.push_back(load.to_m);
    }
    reactions_[1] = moment_about_first / (b - a);
    reactions_[0] = force - reactions_[1];

    std::sort(breakpoints_.begin(), breakpoints_.end());
    breakpoints_.erase(std::unique(breakpoints_.begin(), breakpoints_.end()), breakpoints_.end());

    // The supports do not move: slope·x + offset takes back what the brackets give there.
    const double at_a = cubic_sum(a), at_b = cubic_sum(b);
    slope_ = -(at_b - at_a) / (b - a);
    offset_ = -at_a - slope_ * a;
}

double Beam::moment(double x) const {
    double sum = 0;
    for (std::size_t i = 0; i < 2; ++i) sum += reactions_[i] * bracket(x - problem_.supports_m[i], 1);
    for (const PointLoad& load : problem_.points) sum -= load.force_n * bracket(x - load.at_m, 1);
    for (const SpreadLoad& load : problem_.spreads) {
        sum -= load.force_n_m / 2 * (bracket(x - load.from_m, 2) - bracket(x - load.to_m, 2));
    }
    return sum;
}

double Beam::shear(double x) const {
    double sum = 0;
    for (std::size_t i = 0; i < 2; ++i) sum += x > problem_.supports_m[i] ? reactions_[i] : 0;
    for (const PointLoad& load : problem_.points) sum -= x > load.at_m ? load.force_n : 0;
    for (const SpreadLoad& load : problem_.spreads) {
        sum -= load.force_n_m * (bracket(x - load.from_m, 1) - bracket(x - load.to_m, 1));
    }
    return sum;
}

double Beam::cubic_sum(double x) const {
    double sum = 0;
    for (std::size_t i = 0; i < 2; ++i) sum += reactions_[i] * bracket(x - problem_.supports_m[i], 3) / 6;
    for (const PointLoad& load : problem_.points) sum -= load.force_n * bracket(x - load.at_m, 3) / 6;
    for (const SpreadLoad& load : problem_.spreads) {
        sum -= load.force_n_m / 24 * (bracket(x - load.from_m, 4) - bracket(x - load.to_m, 4));
    }
    return sum;
}

double Beam::sag(double x) const {
    return -(cubic_sum(x) + slope_ * x + offset_) / problem_.bending_stiffness_n_m2;
}

BeamExtreme Beam::largest_moment(double from, double to) const {
    BeamExtreme best{from, moment(from)};
    const auto consider = [&](double x) {
        const double value = moment(x);
        if (std::abs(value) > std::abs(best.value)) best = {x, value};
    };
    consider(to);
    // Shear runs straight between breakpoints; it is asked for just inside, where it does not jump.
    const double inset = (to - from) * 1e-9;
    const double v0 = shear(from + inset), v1 = shear(to - inset);
    if (v0 * v1 < 0) consider(from + (to - from) * v0 / (v0 - v1));
    return best;
}

BeamExtreme Beam::largest_sag() const {
    BeamExtreme best{problem_.supports_m[0], 0};
    for (std::size_t i = 0; i + 1 < breakpoints_.size(); ++i) {
        // A quartic has at most three extremes in a stretch: bracket the best of a few samples, then close in
        // on it.
        constexpr int samples = 24;
        const double from = breakpoints_[i], width = breakpoints_[i + 1] - from;
        int top = 0;
        for (int k = 1; k <= samples; ++k) {
            if (sag(from + width * k / samples) > sag(from + width * top / samples)) top = k;
        }
        double low = from + width * std::max(0, top - 1) / samples;
        double high = from + width * std::min(samples, top + 1) / samples;
        for (int k = 0; k < 60; ++k) {
            const double a = low + (high - low) / 3, b = high - (high - low) / 3;
            (sag(a) < sag(b) ? low : high) = sag(a) < sag(b) ? a : b;
        }
        for (const double x : {low, from, from + width}) {
            if (sag(x) > best.value) best = {x, sag(x)};
        }
    }
    return best;
}

}  // namespace evenspit
