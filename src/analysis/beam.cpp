// SPDX-License-Identifier: MIT
#include "analysis/beam.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace evenspit {
namespace {

/// Macaulay's bracket ⟨x⟩ⁿ.
template <int power>
double bracket(double x) {
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
              std::isfinite(load.force_n_m) && std::isfinite(load.end_force_n_m))) {
            throw std::invalid_argument("a spread load must be finite, in order, and lie on the beam");
        }
    }
    for (const PointCouple& couple : problem.couples) {
        if (!(couple.at_m >= 0 && couple.at_m <= length && std::isfinite(couple.couple_n_m))) {
            throw std::invalid_argument("a couple must be finite and sit on the beam");
        }
    }
}

/// The brackets of a spread load, its intensity integrated so many times: power 2 gives its moment, 4 what
/// bends by it.
template <int power>
double spread_sum(const SpreadLoad& load, double x) {
    const double length = load.to_m - load.from_m;
    if (!(length > 0)) return 0;
    const double rise = (load.end_force_n_m - load.force_n_m) / length;
    constexpr double factorial = [] {
        double product = 1;
        for (int i = 2; i <= power; ++i) product *= i;
        return product;
    }();
    const double a = x - load.from_m, b = x - load.to_m;
    return (load.force_n_m * bracket<power>(a) - load.end_force_n_m * bracket<power>(b)) / factorial +
           rise * (bracket<power + 1>(a) - bracket<power + 1>(b)) / (factorial * (power + 1));
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
        force += load.weight_n();
        moment_about_first += load.moment_n_m() - load.weight_n() * a;
        breakpoints_.push_back(load.from_m);
        breakpoints_.push_back(load.to_m);
    }
    for (const PointCouple& couple : problem_.couples) {
        moment_about_first += couple.couple_n_m;
        breakpoints_.push_back(couple.at_m);
    }
    reactions_[1] = moment_about_first / (b - a);
    reactions_[0] = force - reactions_[1];

    std::sort(breakpoints_.begin(), breakpoints_.end());
    breakpoints_.erase(std::unique(breakpoints_.begin(), breakpoints_.end()), breakpoints_.end());

    // The supports do not move: slope·x + offset takes back what the brackets give there.
    const double at_a = cubic_sum(a), at_b = cubic_sum(b);
    slope_ = -(at_b - at_a) / (b - a);
    offset_ = -at_a - slope_ * a;
    add_up();
}

void Beam::add_up() {
    // By breakpoint, by how much the second to the fifth derivative of cubic_sum() jumps.
    std::vector<std::array<double, 6>> jumps(breakpoints_.size(), {0, 0, 0, 0, 0, 0});
    const auto jump = [&](double x, std::size_t derivative, double by) {
        const auto at = std::lower_bound(breakpoints_.begin(), breakpoints_.end(), x);
        jumps[static_cast<std::size_t>(at - breakpoints_.begin())][derivative] += by;
    };
    for (std::size_t i = 0; i < 2; ++i) jump(problem_.supports_m[i], 3, reactions_[i]);
    for (const PointLoad& load : problem_.points) jump(load.at_m, 3, -load.force_n);
    for (const PointCouple& couple : problem_.couples) jump(couple.at_m, 2, couple.couple_n_m);
    for (const SpreadLoad& load : problem_.spreads) {
        const double length = load.to_m - load.from_m;
        if (!(length > 0)) continue;
        const double rise = (load.end_force_n_m - load.force_n_m) / length;
        jump(load.from_m, 4, -load.force_n_m);
        jump(load.from_m, 5, -rise);
        jump(load.to_m, 4, load.end_force_n_m);
        jump(load.to_m, 5, rise);
    }
    std::array<double, 6> derivative{offset_, slope_, 0, 0, 0, 0};
    powers_.reserve(breakpoints_.size());
    for (std::size_t k = 0; k < breakpoints_.size(); ++k) {
        double factorial = 1;
        Powers& powers = powers_.emplace_back();
        for (std::size_t n = 0; n < derivative.size(); ++n) {
            if (n > 0) factorial *= static_cast<double>(n);
            derivative[n] += jumps[k][n];
            powers[n] = -derivative[n] / (factorial * problem_.bending_stiffness_n_m2);
        }
        if (k + 1 == breakpoints_.size()) break;
        // Taylor's series on to the next.
        const double way = breakpoints_[k + 1] - breakpoints_[k];
        for (std::size_t n = 0; n < derivative.size(); ++n) {
            double sum = derivative[n], power = 1;
            for (std::size_t more = 1; n + more < derivative.size(); ++more) {
                power *= way / static_cast<double>(more);
                sum += power * derivative[n + more];
            }
            derivative[n] = sum;
        }
    }
    double most_n_m = 0;
    for (std::size_t k = 0; k + 1 < breakpoints_.size(); ++k)
        most_n_m = std::max(most_n_m, most_moment(breakpoints_[k], breakpoints_[k + 1]));
    curved_ = (most_n_m + quick_moment_error_n_m()) / problem_.bending_stiffness_n_m2;
}

double Beam::moment(double x) const {
    double sum = 0;
    for (std::size_t i = 0; i < 2; ++i) sum += reactions_[i] * bracket<1>(x - problem_.supports_m[i]);
    for (const PointLoad& load : problem_.points) sum -= load.force_n * bracket<1>(x - load.at_m);
    for (const SpreadLoad& load : problem_.spreads) {
        sum -= spread_sum<2>(load, x);
    }
    for (const PointCouple& couple : problem_.couples) sum += x > couple.at_m ? couple.couple_n_m : 0;
    return sum;
}

double Beam::shear(double x) const {
    double sum = 0;
    for (std::size_t i = 0; i < 2; ++i) sum += x > problem_.supports_m[i] ? reactions_[i] : 0;
    for (const PointLoad& load : problem_.points) sum -= x > load.at_m ? load.force_n : 0;
    for (const SpreadLoad& load : problem_.spreads) {
        sum -= spread_sum<1>(load, x);
    }
    return sum;
}

double Beam::cubic_sum(double x) const {
    double sum = 0;
    for (std::size_t i = 0; i < 2; ++i) sum += reactions_[i] * bracket<3>(x - problem_.supports_m[i]) / 6;
    for (const PointLoad& load : problem_.points) sum -= load.force_n * bracket<3>(x - load.at_m) / 6;
    for (const SpreadLoad& load : problem_.spreads) {
        sum -= spread_sum<4>(load, x);
    }
    for (const PointCouple& couple : problem_.couples)
        sum += couple.couple_n_m * bracket<2>(x - couple.at_m) / 2;
    return sum;
}

double Beam::couples_at(double x) const {
    double sum = 0;
    for (const PointCouple& couple : problem_.couples) sum += couple.at_m == x ? couple.couple_n_m : 0;
    return sum;
}

double Beam::slope(double x) const {
    double sum = slope_;
    for (std::size_t i = 0; i < 2; ++i) sum += reactions_[i] * bracket<2>(x - problem_.supports_m[i]) / 2;
    for (const PointLoad& load : problem_.points) sum -= load.force_n * bracket<2>(x - load.at_m) / 2;
    for (const SpreadLoad& load : problem_.spreads) sum -= spread_sum<3>(load, x);
    for (const PointCouple& couple : problem_.couples) sum += couple.couple_n_m * bracket<1>(x - couple.at_m);
    return -sum / problem_.bending_stiffness_n_m2;
}

double Beam::sag(double x) const {
    return -(cubic_sum(x) + slope_ * x + offset_) / problem_.bending_stiffness_n_m2;
}

double Beam::quick_sag(double x) const {
    const auto after = std::upper_bound(breakpoints_.begin(), breakpoints_.end(), x);
    const auto k = static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, after - breakpoints_.begin() - 1));
    const double way = x - breakpoints_[k];
    if (way < 0) return powers_[0][0] + way * powers_[0][1];
    double sum = 0;
    for (std::size_t n = powers_[k].size(); n-- > 0;) sum = sum * way + powers_[k][n];
    return sum;
}

double Beam::quick_sag_error_m() const {
    // Each breakpoint rounds all derivatives anew, and they reach over what is left of the beam.
    const double most_m = most_curved() * problem_.length_m * problem_.length_m;
    return 16 * static_cast<double>(breakpoints_.size()) * std::numeric_limits<double>::epsilon() * most_m;
}

std::size_t Beam::last_breakpoint_before(double x) const {
    const auto at = std::lower_bound(breakpoints_.begin(), breakpoints_.end(), x);
    return static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, at - breakpoints_.begin() - 1));
}

double Beam::curvature_from(std::size_t k, double x) const {
    const Powers& p = powers_[k];
    const double way = x - breakpoints_[k];
    return 2 * p[2] + way * (6 * p[3] + way * (12 * p[4] + way * 20 * p[5]));
}

double Beam::quick_moment(double x) const {
    return x > 0 ? -problem_.bending_stiffness_n_m2 * curvature_from(last_breakpoint_before(x), x) : 0;
}

double Beam::quick_moment_error_n_m() const {
    const double most_n_m = most_curved() * problem_.bending_stiffness_n_m2;
    return 16 * static_cast<double>(breakpoints_.size()) * std::numeric_limits<double>::epsilon() * most_n_m;
}

double Beam::most_moment(double from, double to) const {
    const std::size_t k = last_breakpoint_before(to);
    const Powers& p = powers_[k];
    const auto bent = [&](double x) { return std::abs(curvature_from(k, x)); };
    // What is spread there bulges it over the line from end to end by no more than it would a beam of that
    // length.
    const auto bulge = [&](double x) { return std::abs(24 * p[4] + 120 * p[5] * (x - breakpoints_[k])); };
    const double width = to - from;
    return problem_.bending_stiffness_n_m2 *
           (std::max(bent(from), bent(to)) + width * width / 8 * std::max(bulge(from), bulge(to)));
}

BeamExtreme Beam::largest_moment(double from, double to) const {
    BeamExtreme best{from, moment(from) + couples_at(from)};
    const auto consider = [&](double x) {
        const double value = moment(x);
        if (std::abs(value) > std::abs(best.value)) best = {x, value};
    };
    consider(to);
    // Shear is a parabola between breakpoints; it is asked for just inside, where it does not jump.
    const double inset = (to - from) * 1e-9;
    const double v0 = shear(from + inset), v1 = shear((from + to) / 2), v2 = shear(to - inset);
    // v0 + p t + q t², t from 0 to 1.
    const double q = 2 * (v0 - 2 * v1 + v2), p = v2 - v0 - q;
    const auto try_root = [&](double t) {
        if (t > 0 && t < 1) consider(from + (to - from) * t);
    };
    constexpr double straight = 1e-9;
    if (std::abs(q) <= straight * std::abs(p)) {
        if (p != 0) try_root(-v0 / p);
    } else if (const double under = p * p - 4 * q * v0; under >= 0) {
        const double half = -(p + std::copysign(std::sqrt(under), p)) / 2;
        try_root(half / q);
        if (half != 0) try_root(v0 / half);
    }
    return best;
}

double Beam::most_curved() const {
    // No moment is greater than all forces at the beam's whole length and all couples together.
    double most_n_m = 0;
    for (const double reaction : reactions_) most_n_m += std::abs(reaction) * problem_.length_m;
    for (const PointLoad& load : problem_.points) most_n_m += std::abs(load.force_n) * problem_.length_m;
    for (const SpreadLoad& load : problem_.spreads) {
        const double greatest = std::max(std::abs(load.force_n_m), std::abs(load.end_force_n_m));
        most_n_m += greatest * (load.to_m - load.from_m) * problem_.length_m;
    }
    for (const PointCouple& couple : problem_.couples) most_n_m += std::abs(couple.couple_n_m);
    return most_n_m / problem_.bending_stiffness_n_m2;
}

BeamExtreme Beam::largest_sag() const {
    // A quintic has at most four extremes in a stretch: bracket the best of a few samples, then close in
    // on it.
    constexpr int samples = 24;
    struct Stretch {
        double from = 0, width = 0;
        int top = 0;  // the best sample
        double highest = 0;
    };
    const double curved = curved_, doubt = quick_sag_error_m();
    // Quickly first: few stretches come near the largest.
    std::vector<double> quick;
    double quick_of_all = 0;
    for (std::size_t i = 0; i + 1 < breakpoints_.size(); ++i) {
        const double width = breakpoints_[i + 1] - breakpoints_[i];
        double highest = quick_sag(breakpoints_[i]);
        for (int k = 1; k <= samples; ++k)
            highest = std::max(highest, quick_sag(breakpoints_[i] + width * k / samples));
        quick.push_back(highest);
        quick_of_all = std::max(quick_of_all, highest);
    }
    std::vector<Stretch> stretches;
    double highest_of_all = 0;
    for (std::size_t i = 0; i + 1 < breakpoints_.size(); ++i) {
        const double width = breakpoints_[i + 1] - breakpoints_[i], step = width / samples;
        if (quick[i] + step * step * curved + 2 * doubt < quick_of_all) continue;
        Stretch stretch{breakpoints_[i], width, 0, sag(breakpoints_[i])};
        for (int k = 1; k <= samples; ++k) {
            const double here = sag(stretch.from + stretch.width * k / samples);
            if (!(here > stretch.highest)) continue;
            stretch.top = k;
            stretch.highest = here;
        }
        highest_of_all = std::max(highest_of_all, stretch.highest);
        stretches.push_back(stretch);
    }
    BeamExtreme best{problem_.supports_m[0], 0};
    for (const auto& [from, width, top, highest] : stretches) {
        // Between samples a curve rises over them by no more than an eighth of this: what stays further below
        // than that is not the largest.
        const double step = width / samples;
        if (highest + step * step * curved < highest_of_all) continue;
        double low = from + width * std::max(0, top - 1) / samples;
        double high = from + width * std::min(samples, top + 1) / samples;
        for (int k = 0; k < 60; ++k) {
            const double a = low + (high - low) / 3, b = high - (high - low) / 3;
            const bool rises = sag(a) < sag(b);
            (rises ? low : high) = rises ? a : b;
        }
        for (const double x : {low, from, from + width}) {
            if (const double here = sag(x); here > best.value) best = {x, here};
        }
    }
    return best;
}

}  // namespace evenspit
