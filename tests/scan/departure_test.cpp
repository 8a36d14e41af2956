// SPDX-License-Identifier: MIT
#include "scan/departure.h"

#include <cmath>
#include <numbers>
#include <vector>

#include <Eigen/Eigenvalues>
#include <gtest/gtest.h>

namespace evenspit::scan {
namespace {

constexpr double size = 0.4;

// Places spread evenly over a ball of radius 0.1 m (spiral after E. Saff, A. Kuijlaars, Math. Intelligencer
// 19(1):5–11, 1997).
std::vector<Vec3> on_a_ball(int count) {
    std::vector<Vec3> places;
    for (int k = 0; k < count; ++k) {
        const double z = 1 - (2 * k + 1.0) / count, angle = k * std::numbers::pi * (3 - std::sqrt(5.0));
        const double r = std::sqrt(1 - z * z);
        places.emplace_back(0.1 * r * std::cos(angle), 0.1 * r * std::sin(angle), 0.1 * z);
    }
    return places;
}

// Folds of some millimetres.
double folds(const Vec3& p) {
    return 0.003 * std::sin(40 * p.x() + 1) * std::cos(35 * p.y()) + 0.001 * std::sin(60 * p.z());
}

GuessedPlaces without_numbers(std::vector<Vec3> at) {
    GuessedPlaces places;
    places.changes = Eigen::MatrixXd::Zero(Eigen::Index(at.size()), 0);
    places.at = std::move(at);
    return places;
}

Eigen::VectorXd folds_at(const std::vector<Vec3>& places) {
    Eigen::VectorXd values(Eigen::Index(places.size()));
    for (std::size_t k = 0; k < places.size(); ++k) values[Eigen::Index(k)] = folds(places[k]);
    return values;
}

TEST(Departure, FillsSmallGapsAndKnowsHowWell) {
    std::vector<Vec3> seen, gap;
    for (const Vec3& p : on_a_ball(500)) (p.z() < -0.085 ? gap : seen).push_back(p);
    const Departure departure(without_numbers(seen), folds_at(seen), Eigen::VectorXd(), size);
    const Eigen::VectorXd there = departure.mean(without_numbers(seen));
    EXPECT_LT((there - folds_at(seen)).cwiseAbs().maxCoeff(), 2e-4);

    const GuessedPlaces hidden = without_numbers(gap);
    const Eigen::VectorXd error = departure.mean(hidden) - folds_at(gap);
    const Eigen::VectorXd sigma = departure.covariance(hidden, hidden).diagonal().cwiseSqrt();
    EXPECT_LT(std::sqrt(error.squaredNorm() / double(error.size())),
              0.5 * std::sqrt(folds_at(gap).squaredNorm() / double(error.size())));
    EXPECT_LT(std::sqrt(error.cwiseQuotient(sigma).squaredNorm() / double(error.size())), 2.5);
    EXPECT_LT(sigma.maxCoeff(), 0.002);

    const Eigen::VectorXd weights = folds_at(gap);
    const GuessedPlaces others = without_numbers({{0, 0, -0.1}, {0.1, 0, 0}});
    EXPECT_LT((departure.carried(others, hidden, weights) - departure.covariance(others, hidden) * weights)
                  .cwiseAbs()
                  .maxCoeff(),
              1e-12);
}

TEST(Departure, KnowsNothingFarFromWhatWasSeen) {
    const std::vector<Vec3> seen = on_a_ball(200);
    const Departure departure(without_numbers(seen), folds_at(seen), Eigen::VectorXd(), size);
    const GuessedPlaces far = without_numbers({{3, 0, 0}, {0, 3, 0}}), near = without_numbers({seen[0]});
    EXPECT_LT(departure.mean(far).cwiseAbs().maxCoeff(), 1e-5);
    const Eigen::MatrixXd covariance = departure.covariance(far, far);
    EXPECT_NEAR(covariance(0, 0), covariance(1, 1), 1e-3 * covariance(0, 0));
    EXPECT_LT(std::abs(covariance(0, 1)), 0.05 * covariance(0, 0));
    EXPECT_LT(departure.covariance(near, near)(0, 0), 0.02 * covariance(0, 0));
    EXPECT_GT(std::sqrt(covariance(0, 0)), 0.5 * std::sqrt(folds_at(seen).squaredNorm() / 200));
}

TEST(Departure, CovarianceHasNoNegativeDirection) {
    const std::vector<Vec3> seen = on_a_ball(150);
    const Departure departure(without_numbers(seen), folds_at(seen), Eigen::VectorXd(), size);
    const GuessedPlaces others = without_numbers(on_a_ball(90));
    const Eigen::MatrixXd covariance = departure.covariance(others, others);
    EXPECT_LT((covariance - covariance.transpose()).cwiseAbs().maxCoeff(), 1e-12);
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(covariance);
    EXPECT_GT(solver.eigenvalues().minCoeff(), -1e-11);
}

// A ball guessed 10 mm too small, seen from above only: the number "radius", in steps of 8 mm, carries what
// was seen on to the other side, where the fields alone know nothing.
TEST(Departure, NumbersOfTheGuessReachToTheOtherSide) {
    std::vector<Vec3> upper, lower{{0, 0, -0.1}};
    for (const Vec3& p : on_a_ball(300)) {
        if (p.z() > 0.02) upper.push_back(p);
    }
    const auto growing = [](std::vector<Vec3> at) {
        GuessedPlaces places;
        places.changes = Eigen::MatrixXd::Constant(Eigen::Index(at.size()), 1, -0.008);
        places.at = std::move(at);
        return places;
    };
    Eigen::VectorXd values = folds_at(upper);
    values.array() += 0.010;
    const Departure departure(growing(upper), values, Eigen::VectorXd::Zero(1), size);
    EXPECT_NEAR(departure.mean(growing(lower))[0], 0.010, 0.004);
    // Where the usual radius is what was guessed and nothing was seen to the contrary, nothing moves.
    const Departure right(growing(upper), folds_at(upper), Eigen::VectorXd::Zero(1), size);
    EXPECT_NEAR(right.mean(growing(lower))[0], 0, 0.004);
}

// With one place seen and one number, by hand: the departure is expected where the number's usual value puts
// it, and a value seen there and then leaves nothing to change elsewhere.
TEST(Departure, ExpectsTheUsualBeforeItSees) {
    GuessedPlaces one;
    one.at = {{0, 0, 0.1}};
    one.changes = Eigen::MatrixXd::Constant(1, 1, -0.008);
    const Eigen::VectorXd usual =
        Eigen::VectorXd::Constant(1, 0.5);  // half a deviation more: 4 mm further out
    const Departure departure(one, Eigen::VectorXd::Constant(1, 0.004), usual, size);
    GuessedPlaces other = one;
    other.at = {{0, 0, -3}};
    EXPECT_NEAR(departure.mean(other)[0], 0.004, 1e-12);
}

}  // namespace
}  // namespace evenspit::scan
