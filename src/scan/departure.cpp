// SPDX-License-Identifier: MIT
#include "scan/departure.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>

#include "scan/stoppable.h"

namespace evenspit::scan {

namespace {

// What is tried for the fields; the likeliest is taken. Reaches in sizes of the body: from a fold of skin to
// half a flank. Common practice, no source.
constexpr std::array reaches{0.04, 0.065, 0.10, 0.15};
constexpr std::array short_shares{0.8, 0.97};
constexpr std::array amplitudes{0.7, 1.0, 1.4, 2.0};  // of the root mean square of the values
constexpr double long_reach = 0.4;                    // in sizes of the body
// What is seen is a mean over many points: its own error, as a share of the fields' variance.
constexpr double seen_error = 0.01;
constexpr double least_amplitude_m =
    1e-5;  // a guess that fits to the last micrometre leaves nothing to solve

double matern(double distance, double reach) {
    const double t = std::sqrt(5.0) * distance / reach;
    return (1 + t + t * t / 3) * std::exp(-t);
}

}  // namespace

double Departure::covariance_at(double distance) const {
    return fields_.amplitude * fields_.amplitude *
           (fields_.short_share * matern(distance, fields_.reach) +
            (1 - fields_.short_share) * matern(distance, long_reach_));
}

Eigen::MatrixXd Departure::prior(const GuessedPlaces& a, const GuessedPlaces& b) const {
    Eigen::MatrixXd all = a.changes * b.changes.transpose();
    stoppable_for(
        control_, b.at.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t j = first; j < last; ++j) {
                for (std::size_t i = 0; i < a.at.size(); ++i)
                    all(Eigen::Index(i), Eigen::Index(j)) += covariance_at((a.at[i] - b.at[j]).norm());
            }
        },
        16);
    return all;
}

Departure::Departure(GuessedPlaces seen, const Eigen::VectorXd& values, const Eigen::VectorXd& usual,
                     double size, const StopControl& control)
    // A number that should be larger has moved the skin the other way: inward where its change is positive.
    : control_(control), seen_(std::move(seen)), offset_(-usual), long_reach_(long_reach * size) {
    const auto count = Eigen::Index(seen_.at.size());
    const Eigen::VectorXd rest = values - seen_.changes * offset_;
    const double spread =
        std::max(std::sqrt(values.squaredNorm() / double(values.size())), least_amplitude_m);

    std::vector<Fields> tries;
    for (const double reach : reaches) {
        for (const double share : short_shares) {
            for (const double amplitude : amplitudes)
                tries.push_back({amplitude * spread, reach * size, share});
        }
    }
    Eigen::MatrixXd apart(count, count);
    for (Eigen::Index j = 0; j < count; ++j) {
        for (Eigen::Index i = 0; i < count; ++i)
            apart(i, j) = (seen_.at[std::size_t(i)] - seen_.at[std::size_t(j)]).norm();
    }
    const Eigen::MatrixXd by_numbers = seen_.changes * seen_.changes.transpose();
    std::vector<double> likelihood(tries.size(), -std::numeric_limits<double>::infinity());
    stoppable_for(
        control, tries.size() / amplitudes.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t group = first; group < last; ++group) {
                const Fields& same = tries[group * amplitudes.size()];
                Eigen::MatrixXd shape = apart.unaryExpr([&](double d) {
                    return same.short_share * matern(d, same.reach) +
                           (1 - same.short_share) * matern(d, long_reach_);
                });
                shape.diagonal().array() += seen_error;
                for (std::size_t k = 0; k < amplitudes.size(); ++k) {
                    control.check();
                    const std::size_t t = group * amplitudes.size() + k;
                    const Eigen::LLT<Eigen::MatrixXd> factors(by_numbers + tries[t].amplitude *
                                                                               tries[t].amplitude * shape);
                    if (factors.info() != Eigen::Success) continue;
                    likelihood[t] = -0.5 * rest.dot(factors.solve(rest)) -
                                    factors.matrixLLT().diagonal().array().log().sum();
                }
            }
        },
        1);
    std::size_t best = 0;
    for (std::size_t t = 1; t < tries.size(); ++t) {
        if (likelihood[t] > likelihood[best]) best = t;
    }
    fields_ = tries[best];
    Eigen::MatrixXd gram = prior(seen_, seen_);
    gram.diagonal().array() += seen_error * fields_.amplitude * fields_.amplitude;
    control.check();
    gram_.compute(gram);
    weights_ = gram_.solve(rest);
}

Eigen::VectorXd Departure::mean(const GuessedPlaces& where) const {
    return where.changes * offset_ + prior(where, seen_) * weights_;
}

Eigen::MatrixXd Departure::covariance(const GuessedPlaces& a, const GuessedPlaces& b) const {
    return prior(a, b) - prior(a, seen_) * gram_.solve(prior(seen_, b));
}

Eigen::VectorXd Departure::carried(const GuessedPlaces& where, const GuessedPlaces& from,
                                   const Eigen::VectorXd& weights) const {
    const Eigen::VectorXd at_seen = gram_.solve(prior(seen_, from) * weights);
    return prior(where, from) * weights - prior(where, seen_) * at_seen;
}

}  // namespace evenspit::scan
