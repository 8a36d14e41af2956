// SPDX-License-Identifier: MIT
#include "analysis/roll_belief.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include <Eigen/LU>

#include "analysis/roll_posterior.h"
#include "analysis/roll_stand.h"
#include "units/standard_gravity.h"

namespace evenspit {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// What keeps a covariance from being flat: far less than can be told, (kg m)² and deviates squared.
constexpr double flat_unbalance = 1e-14, flat_deviate = 1e-8;
/// An input is moved by its own deviation to see what it does, or by this where next to none is left.
constexpr double least_move = 0.05;
/// How often a draw is set right, Matheron's rule being the first: the unbalance is nearly linear.
constexpr int corrections = 5;

int friction_deviate(const Mountings& inputs) {
    for (std::size_t i = 0; i < inputs.inputs().size(); ++i) {
        if (inputs.inputs()[i].kind == Input::Kind::friction)
            return static_cast<int>(inputs.first_deviate(i));
    }
    return -1;
}

/// How the unbalance of a hung weight may be off: as a counterweight's.
Eigen::Matrix2d hung_covariance(const RollTest& test, const Spread& spread) {
    if (!test.hung) return Eigen::Matrix2d::Zero();
    const HungWeight& hung = *test.hung;
    const Vec2 out(std::cos(hung.clock_rad), std::sin(hung.clock_rad)), round(-out.y(), out.x());
    const double size = hung.mass_kg * hung.radius_m;
    const double along =
        std::hypot(hung.mass_kg * spread.counterweight_radius_m, size * spread.counterweight_mass);
    const double across = size * spread.counterweight_clock_rad;
    return along * along * out * out.transpose() + across * across * round * round.transpose();
}

RollFound told(std::size_t index, const RollPosterior& posterior, const RollPrior& prior) {
    RollFound found;
    found.test = index;
    found.contradiction = posterior.contradiction;
    found.folded = !posterior.draws.empty();
    found.unbalance_kg_m = posterior.mean.head<2>();
    found.unbalance_sd_kg_m = posterior.covariance.diagonal().head<2>().cwiseSqrt();
    double sizes = 0, squares = 0, frictions = 0, friction_squares = 0;
    Vec2 sides = Vec2::Zero();
    for (const Vec3& draw : posterior.draws) {
        const Vec2 u = draw.head<2>();
        sizes += u.norm();
        squares += u.squaredNorm();
        sides += u.stableNormalized();
        const double friction = friction_at(prior.friction_n_m, prior.friction_spread, draw.z());
        frictions += friction;
        friction_squares += friction * friction;
    }
    const double count = std::max<double>(1, static_cast<double>(posterior.draws.size()));
    const auto deviation = [count](double sum, double square_sum) {
        return std::sqrt(std::max(0.0, square_sum / count - sum / count * (sum / count)));
    };
    found.size_kg_m = sizes / count;
    found.size_sd_kg_m = deviation(sizes, squares);
    found.friction_n_m = frictions / count;
    found.friction_sd_n_m = deviation(frictions, friction_squares);
    found.heavy_side_rad = std::atan2(sides.y(), sides.x());
    if (found.heavy_side_rad < 0) found.heavy_side_rad += 2 * std::numbers::pi;
    // Circular standard deviation (K. Mardia, P. Jupp, Directional Statistics, 2000).
    const double together = std::clamp(sides.norm() / count, 1e-9, 1.0);
    found.heavy_side_sd_rad = std::sqrt(-2 * std::log(together));
    return found;
}

}  // namespace

RollBelief::RollBelief(const Assembly& assembly)
    : assembly_(assembly), inputs_(assembly, 0), mean_(VectorXd::Zero(static_cast<Index>(inputs_.width()))) {
    if (!was_rolled(assembly)) return;
    covariance_ = MatrixXd::Identity(mean_.size(), mean_.size());
    for (std::size_t t = 0; t < assembly.roll_tests.size(); ++t) {
        if (assembly.roll_tests[t].counts) fold(t);
    }
}

Vec3 RollBelief::observed(Assembly& work, const VectorXd& deviates, const Step& step) const {
    inputs_.mount_by(work, {deviates.data(), static_cast<std::size_t>(deviates.size())});
    const Vec2 u = rolled_unbalance(work, *step.test);
    return {u.x(), u.y(), step.friction < 0 ? 0 : deviates(step.friction)};
}

void RollBelief::fold(std::size_t index) {
    Step step;
    step.test = &assembly_.roll_tests[index];
    step.friction = step.test->on == RollsOn::rollers ? -1 : friction_deviate(inputs_);
    Assembly work = assembly_;
    const Index width = mean_.size();

    // What each deviate does to the unbalance, and what its curvature does to the mean.
    Eigen::Matrix2Xd slopes(2, width);
    const Vec3 middle = observed(work, mean_, step);
    Vec2 bent = Vec2::Zero();
    for (Index d = 0; d < width; ++d) {
        const double move = std::max(least_move, std::sqrt(covariance_(d, d)));
        VectorXd moved = mean_;
        moved(d) += move;
        const Vec2 up = observed(work, moved, step).head<2>();
        moved(d) -= 2 * move;
        const Vec2 down = observed(work, moved, step).head<2>();
        slopes.col(d) = (up - down) / (2 * move);
        bent += (up + down - 2 * middle.head<2>()) / 2 * (covariance_(d, d) / (move * move));
    }
    Eigen::MatrixX3d crossed = Eigen::MatrixX3d::Zero(width, 3);
    crossed.leftCols<2>() = covariance_ * slopes.transpose();
    RollPrior prior;
    prior.mean = middle + Vec3(bent.x(), bent.y(), 0);
    prior.covariance.topLeftCorner<2, 2>() = slopes * crossed.leftCols<2>();
    prior.covariance.topRightCorner<2, 1>().setZero();
    prior.covariance.bottomLeftCorner<1, 2>().setZero();
    if (step.friction >= 0) {
        crossed.col(2) = covariance_.col(step.friction);
        prior.covariance.col(2) << slopes * crossed.col(2), covariance_(step.friction, step.friction);
        prior.covariance.row(2) = prior.covariance.col(2).transpose();
    }
    prior.covariance.diagonal() += Vec3(flat_unbalance, flat_unbalance, flat_deviate);
    prior.friction_n_m = stand_friction_n_m(assembly_, *step.test, false);
    prior.friction_hung_n_m = stand_friction_n_m(assembly_, *step.test, true);
    prior.friction_spread = assembly_.spread.friction;
    prior.hung_covariance = hung_covariance(*step.test, assembly_.spread);

    RollPosterior posterior = roll_posterior(*step.test, prior);
    found_.push_back(told(index, posterior, prior));
    if (posterior.draws.empty()) return;
    step.gain = crossed * prior.covariance.inverse();
    covariance_ -= step.gain * (prior.covariance - posterior.covariance) * step.gain.transpose();
    mean_ += step.gain * (posterior.mean - prior.mean);
    for (int again = 1; again < corrections; ++again)
        mean_ += step.gain * (posterior.mean - observed(work, mean_, step));
    step.draws = std::move(posterior.draws);
    steps_.push_back(std::move(step));
}

void RollBelief::condition(Mountings& mountings) const {
    if (steps_.empty()) return;
    Assembly work = assembly_;
    for (std::size_t k = 0; k < mountings.count(); ++k) {
        const std::span<double> row = mountings.deviates(k);
        Eigen::Map<VectorXd> deviates(row.data(), static_cast<Index>(row.size()));
        VectorXd x = deviates;
        for (std::size_t s = 0; s < steps_.size(); ++s) {
            const Step& step = steps_[s];
            // Evenly through the draws, whatever the mounting was before: multiples of the golden section.
            const double place =
                static_cast<double>(k + 1) * std::numbers::phi + 0.37 * static_cast<double>(s);
            const auto pick = static_cast<std::size_t>((place - std::floor(place)) *
                                                       static_cast<double>(step.draws.size()));
            const Vec3& wanted = step.draws[std::min(pick, step.draws.size() - 1)];
            for (int again = 0; again < corrections; ++again)
                x += step.gain * (wanted - observed(work, x, step));
        }
        deviates = x;
    }
}

Assembly RollBelief::load() const {
    Assembly work = assembly_;
    inputs_.mount_by(work, {mean_.data(), static_cast<std::size_t>(mean_.size())});
    return work;
}

Mountings believed_mountings(const Assembly& assembly, std::size_t count) {
    Mountings mountings(assembly, count);
    if (was_rolled(assembly)) RollBelief(assembly).condition(mountings);
    return mountings;
}

}  // namespace evenspit
