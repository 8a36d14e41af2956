// SPDX-License-Identifier: MIT
#include "analysis/roll_posterior.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>
#include <random>

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

#include "analysis/roll_stand.h"
#include "units/standard_gravity.h"

namespace evenspit {
namespace {

using Eigen::Matrix2d;
using std::numbers::pi;

constexpr std::size_t draws_of_each = 3072;
constexpr std::size_t kept_draws = 2048;
constexpr double wider = 3;
constexpr double never = -std::numeric_limits<double>::infinity();
/// The predictive density of the rest is laid out on that many angles, from that many draws.
constexpr std::size_t rest_angles = 120;
constexpr std::size_t rest_draws = 1536;

/// Uniform and normal numbers, the same on every machine.
class Dice {
  public:
    double uniform() { return (static_cast<double>(random_() >> 11) + 0.5) * 0x1p-53; }
    double normal() {  // Box and Muller
        const double size = std::sqrt(-2 * std::log(uniform()));
        return size * std::cos(2 * pi * uniform());
    }
    Vec2 normal2() {
        const double y = normal();
        return {y, normal()};
    }
    Vec3 normal3() {
        const Vec2 yz = normal2();
        return {yz.x(), yz.y(), normal()};
    }

  private:
    std::mt19937_64 random_{20250117};
};

/// A normal distribution of three numbers.
class Normal3 {
  public:
    Normal3(Vec3 mean, const Mat3& covariance)
        : mean_(std::move(mean)),
          root_(covariance.llt().matrixL()),
          log_scale_(-std::log(root_.diagonal().prod()) - 1.5 * std::log(2 * pi)) {}

    [[nodiscard]] Vec3 draw(Dice& dice) const { return mean_ + root_ * dice.normal3(); }
    [[nodiscard]] double log_density(const Vec3& at) const {
        return log_scale_ - root_.triangularView<Eigen::Lower>().solve(at - mean_).squaredNorm() / 2;
    }

  private:
    Vec3 mean_;
    Mat3 root_;
    double log_scale_;
};

double log_sum(const std::array<double, 3>& logs) {
    const double most = *std::max_element(logs.begin(), logs.end());
    if (most == never) return never;
    double sum = 0;
    for (const double l : logs) sum += std::exp(l - most);
    return most + std::log(sum);
}

Matrix2d root_of(const Matrix2d& covariance) {
    const Eigen::SelfAdjointEigenSolver<Matrix2d> solver(covariance);
    const Vec2 sigmas = solver.eigenvalues().cwiseMax(0).cwiseSqrt();
    return solver.eigenvectors() * sigmas.asDiagonal();
}

double angle_of(const Vec2& v) {
    return std::atan2(v.y(), v.x());
}

/// One thing that may be so.
struct Draw {
    Vec3 v = Vec3::Zero();       ///< unbalance and the friction's deviate
    Vec2 hung = Vec2::Zero();    ///< the hung weight's unbalance as it really was
    double before_rest = never;  ///< log weight without the reading of the rest
    double weight = never;       ///< log weight
};

class Sampler {
  public:
    Sampler(const RollTest& test, const RollPrior& prior)
        : test_(test),
          prior_(prior),
          likely_(prior.mean, prior.covariance),
          wide_(prior.mean, wider * wider * prior.covariance),
          friction_mean_(prior.mean.z()),
          friction_sd_(std::sqrt(prior.covariance(2, 2))) {
        if (test.hung) hung_ = hung_unbalance(*test.hung);
        const Matrix2d u = prior.covariance.topLeftCorner<2, 2>();
        reach_kg_m_ = prior.mean.head<2>().norm() +
                      5 * std::sqrt(Eigen::SelfAdjointEigenSolver<Matrix2d>(u).eigenvalues().y());
        const Matrix2d hung_root = root_of(prior.hung_covariance);
        for (std::size_t n = 0; n < draws_of_each; ++n) {
            for (int way = 0; way < 3; ++way) {
                Draw draw;
                draw.hung = hung_ + hung_root * dice_.normal2();
                draw.v = way == 0 ? likely_.draw(dice_) : way == 1 ? wide_.draw(dice_) : left_open(draw);
                weigh(draw);
                draws_.push_back(draw);
            }
        }
    }

    [[nodiscard]] RollPosterior posterior() {
        RollPosterior result;
        result.contradiction = contradiction();
        const std::vector<double> shares = shares_of(&Draw::weight);
        if (shares.empty()) return result;
        for (std::size_t i = 0; i < draws_.size(); ++i) result.mean += shares[i] * draws_[i].v;
        for (std::size_t i = 0; i < draws_.size(); ++i) {
            const Vec3 off = draws_[i].v - result.mean;
            result.covariance += shares[i] * off * off.transpose();
        }
        for (const std::size_t i : picked(shares, kept_draws)) result.draws.push_back(draws_[i].v);
        return result;
    }

  private:
    // --- what a draw stands for ---

    [[nodiscard]] double friction(double deviate, bool hung) const {
        return friction_at(hung ? prior_.friction_hung_n_m : prior_.friction_n_m, prior_.friction_spread,
                           deviate);
    }
    /// Radius of the disc round 0 or round −w in which friction holds the load, kg m.
    [[nodiscard]] double disc_kg_m(double deviate) const {
        return friction(deviate, test_.hung.has_value()) / standard_gravity;
    }
    [[nodiscard]] bool has_disc() const { return test_.hung || !test_.down_rad; }

    [[nodiscard]] double band_of(const Vec3& v) const {
        return rest_band_rad(friction(v.z(), false), standard_gravity * v.head<2>().norm());
    }
    /// Log density of the reading of the rest.
    [[nodiscard]] double log_rest(const Vec3& v, double down_rad) const {
        return std::log(rest_density(down_rad - angle_of(v.head<2>()), band_of(v), test_.read_rad));
    }

    /// From what the test leaves open if one believed nothing of the unbalance before.
    Vec3 left_open(const Draw& draw) {
        const double deviate = friction_mean_ + friction_sd_ * dice_.normal();
        Vec2 u;
        if (has_disc()) {
            const double size = disc_kg_m(deviate) * std::sqrt(dice_.uniform());
            const double angle = 2 * pi * dice_.uniform();
            u = size * Vec2(std::cos(angle), std::sin(angle));
            if (test_.hung) u -= draw.hung;
        } else {
            const double size = reach_kg_m_ * dice_.uniform();
            const double band = rest_band_rad(friction(deviate, false), standard_gravity * size);
            const double off = band * (2 * dice_.uniform() - 1) + test_.read_rad * dice_.normal();
            u = size * Vec2(std::cos(*test_.down_rad - off), std::sin(*test_.down_rad - off));
        }
        return {u.x(), u.y(), deviate};
    }

    /// Log density of what left_open() draws.
    [[nodiscard]] double log_left_open(const Draw& draw) const {
        const double off = (draw.v.z() - friction_mean_) / friction_sd_;
        const double log_friction = -off * off / 2 - std::log(friction_sd_ * std::sqrt(2 * pi));
        const Vec2 u = draw.v.head<2>();
        if (!has_disc()) {
            const double size = u.norm();
            if (size > reach_kg_m_ || size == 0) return never;
            return log_friction - std::log(reach_kg_m_ * size) + log_rest(draw.v, *test_.down_rad);
        }
        const double disc = disc_kg_m(draw.v.z());
        const Vec2 left = test_.hung ? Vec2(u + draw.hung) : u;
        if (disc <= 0 || left.norm() > disc) return never;
        return log_friction - std::log(pi * disc * disc);
    }

    /// Importance: the prior, times how likely the test is, over the mixture that was drawn from.
    void weigh(Draw& draw) const {
        const double log_prior = likely_.log_density(draw.v);
        const double log_drawn =
            log_sum({log_prior, wide_.log_density(draw.v), log_left_open(draw)}) - std::log(3.0);
        const Vec2 u = draw.v.head<2>();
        if (!test_.down_rad && standard_gravity * u.norm() > friction(draw.v.z(), false)) return;
        if (test_.hung && (u + draw.hung).norm() > disc_kg_m(draw.v.z())) return;
        draw.before_rest = log_prior - log_drawn;
        draw.weight = draw.before_rest + (test_.down_rad ? log_rest(draw.v, *test_.down_rad) : 0);
    }

    /// Weights that add to 1; none where all are 0.
    [[nodiscard]] std::vector<double> shares_of(double Draw::*weight) const {
        double most = never;
        for (const Draw& draw : draws_) most = std::max(most, draw.*weight);
        if (most == never) return {};
        std::vector<double> shares;
        double sum = 0;
        for (const Draw& draw : draws_) {
            shares.push_back(std::exp(draw.*weight - most));
            sum += shares.back();
        }
        for (double& share : shares) share /= sum;
        return shares;
    }

    /// So many draws by their shares, evenly spread.
    [[nodiscard]] static std::vector<std::size_t> picked(const std::vector<double>& shares,
                                                         std::size_t count) {
        std::vector<std::size_t> list;
        double below = 0;
        for (std::size_t i = 0; i < shares.size(); ++i) {
            below += shares[i];
            while (list.size() < count &&
                   (static_cast<double>(list.size()) + 0.5) / static_cast<double>(count) <= below)
                list.push_back(i);
        }
        while (list.size() < count) list.push_back(list.back());
        return list;
    }

    // --- how strange it is ---

    /// Two readings of one test are held against what was believed each on its own: the stranger one counts,
    /// twice for there being two.
    [[nodiscard]] double contradiction() const {
        double least = 1;
        int readings = 0;
        if (test_.hung) {
            least = std::min(least, strange_weight());
            ++readings;
        }
        if (test_.down_rad) {
            least = std::min(least, strange_rest(*test_.down_rad));
        } else {
            least = std::min(least, strange_stay());
        }
        ++readings;
        return std::min(1.0, readings * least);
    }

    /// The weight that holds is normal about −U, with what it is off itself and half of the disc's radius
    /// each way: how often it is as far out.
    [[nodiscard]] double strange_weight() const {
        const double disc = prior_.friction_hung_n_m / standard_gravity;
        const Matrix2d spread = prior_.covariance.topLeftCorner<2, 2>() + prior_.hung_covariance +
                                disc * disc / 4 * Matrix2d::Identity();
        const Vec2 off = prior_.mean.head<2>() + hung_;
        return std::exp(-off.dot(spread.llt().solve(off)) / 2);
    }

    /// How often the load stays anywhere, where that is the rarer of the two.
    [[nodiscard]] double strange_stay() const {
        double share = 0;
        for (const Draw& draw : draws_) {
            if (standard_gravity * draw.v.head<2>().norm() > friction(draw.v.z(), false)) continue;
            const double log_prior = likely_.log_density(draw.v);
            share +=
                std::exp(log_prior - log_sum({log_prior, wide_.log_density(draw.v), log_left_open(draw)}) +
                         std::log(3.0));
        }
        share /= static_cast<double>(draws_.size());
        return share < 0.5 ? share : 1;
    }

    /// How often it rests where it did or anywhere less likely, the hung weight being known.
    [[nodiscard]] double strange_rest(double down_rad) const {
        const std::vector<double> shares = shares_of(&Draw::before_rest);
        if (shares.empty()) return 0;
        const std::vector<std::size_t> list = picked(shares, rest_draws);
        std::vector<std::array<double, 2>> sides;  // where the heavy side is, and its band
        for (const std::size_t i : list)
            sides.push_back({angle_of(draws_[i].v.head<2>()), band_of(draws_[i].v)});
        const auto density = [&](double angle) {
            double sum = 0;
            for (const auto& [side, band] : sides) sum += rest_density(angle - side, band, test_.read_rad);
            return sum;
        };
        const double here = density(down_rad);
        double all = 0, rarer = 0;
        for (std::size_t i = 0; i < rest_angles; ++i) {
            const double there = density(down_rad + 2 * pi * (static_cast<double>(i) + 0.5) / rest_angles);
            all += there;
            if (there <= here) rarer += there;
        }
        return rarer / all;
    }

    const RollTest& test_;
    const RollPrior& prior_;
    Normal3 likely_, wide_;
    double friction_mean_, friction_sd_;
    Vec2 hung_ = Vec2::Zero();
    double reach_kg_m_ = 0;
    Dice dice_;
    std::vector<Draw> draws_;
};

}  // namespace

Vec2 hung_unbalance(const HungWeight& hung) {
    return hung.mass_kg * hung.radius_m * Vec2(std::cos(hung.clock_rad), std::sin(hung.clock_rad));
}

RollPosterior roll_posterior(const RollTest& test, const RollPrior& prior) {
    return Sampler(test, prior).posterior();
}

}  // namespace evenspit
