// SPDX-License-Identifier: MIT
#include "analysis/weigh.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include <Eigen/QR>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "analysis/limits.h"

namespace evenspit {
namespace {

/// A fork with two tines of 5 mm at 30 mm, both with that much flesh round a middle.
struct Held {
    double hub_m, middle_m, in_flesh_m;
};

struct HeldLoad {
    std::vector<Fork> forks;
    Grip grip;
    ItemGrip item;
};

HeldLoad held_by(const std::vector<Held>& forks) {
    HeldLoad load;
    for (const Held& held : forks) {
        Fork fork;
        fork.at_m = held.hub_m;
        for (const double clock_rad : {0.0, std::numbers::pi}) {
            Tine tine;
            tine.clock_rad = clock_rad;
            tine.radius_m = 0.03;
            tine.diameter_m = 0.005;
            tine.length_m = 0.1;
            fork.tines.push_back(tine);
        }
        ForkGrip grip;
        grip.at_m = held.hub_m;
        grip.tines.resize(2);
        for (TineGrip& tine : grip.tines) {
            tine.embedded_m = held.in_flesh_m;
            tine.flesh_middle_m = held.middle_m;
        }
        load.item.forks.push_back(static_cast<int>(load.forks.size()));
        load.forks.push_back(fork);
        load.grip.forks.push_back(grip);
    }
    return load;
}

std::vector<CarriedShare> carried(const HeldLoad& load, double centre_m) {
    return carried_shares(load.item, load.grip, load.forks, centre_m);
}

}  // namespace

TEST(WeightShares, OneStationTakesAll) {
    EXPECT_EQ(weight_shares({0.3}, 0.5), std::vector<double>{1.0});
}

TEST(WeightShares, TwoStationsByTheLever) {
    const std::vector<double> s = weight_shares({0.2, 0.5}, 0.3);
    EXPECT_NEAR(s[0], 2.0 / 3, 1e-15);
    EXPECT_NEAR(s[1], 1.0 / 3, 1e-15);
}

TEST(WeightShares, PullUpWhereTheCentreLiesOutside) {
    const std::vector<double> s = weight_shares({0.2, 0.3}, 0.35);
    EXPECT_NEAR(s[0], -0.5, 1e-14);
    EXPECT_NEAR(s[1], 1.5, 1e-14);
}

TEST(WeightShares, OfStationsThatHaveNoLeverAreEven) {
    const std::vector<double> even{0.5, 0.5};
    EXPECT_EQ(weight_shares({0.2, 0.2}, 0.35), even);
    EXPECT_EQ(weight_shares({0.2, 0.219}, 0.35), even);
    EXPECT_NE(weight_shares({0.2, 0.221}, 0.35), even);
}

// The least shares that balance solve a least-norm problem; Eigen's complete orthogonal decomposition is the
// peer.
TEST(WeightShares, AreTheLeastThatBalance) {
    const bool held = rc::check("least-norm solution", [] {
        const int count = *rc::gen::inRange(2, 6);
        std::vector<double> stations(static_cast<std::size_t>(count));
        for (int i = 0; i < count; ++i)
            stations[static_cast<std::size_t>(i)] = 0.1 * i + *rc::gen::inRange(0, 90) / 1000.0;
        RC_PRE(stations.back() - stations.front() >= limits::least_bite_m);
        const double centre = *rc::gen::inRange(-100, 900) / 1000.0;
        const std::vector<double> shares = weight_shares(stations, centre);
        Eigen::MatrixXd balance(2, count);
        for (int i = 0; i < count; ++i) {
            balance(0, i) = 1;
            balance(1, i) = stations[static_cast<std::size_t>(i)];
        }
        const Eigen::VectorXd least =
            balance.completeOrthogonalDecomposition().solve(Eigen::Vector2d(1, centre));
        for (int i = 0; i < count; ++i)
            RC_ASSERT(std::abs(shares[static_cast<std::size_t>(i)] - least[i]) < 1e-10);
    });
    EXPECT_TRUE(held);
}

// Whatever holds it, forces and couples together put the weight at its centre of mass.
TEST(CarriedShares, BalanceTheWeightAboutItsCentre) {
    const bool held = rc::check("statics", [] {
        std::vector<Held> forks;
        const int count = *rc::gen::inRange(1, 5);
        for (int i = 0; i < count; ++i) {
            const double hub = *rc::gen::inRange(0, 700) / 1000.0;
            forks.push_back(
                {hub, hub + *rc::gen::inRange(-90, 90) / 1000.0, *rc::gen::inRange(0, 80) / 1000.0});
        }
        const double centre = *rc::gen::inRange(0, 700) / 1000.0;
        const HeldLoad load = held_by(forks);
        double share = 0, moment = 0;
        for (const CarriedShare& c : carried(load, centre)) {
            share += c.share;
            moment += c.share * load.forks[static_cast<std::size_t>(c.fork)].at_m + c.lever_m;
        }
        RC_ASSERT(std::abs(share - 1) < 1e-9);
        RC_ASSERT(std::abs(moment - centre) < 1e-9);
    });
    EXPECT_TRUE(held);
}

TEST(CarriedShares, ALoneForkTakesItAllThroughItsClamp) {
    const std::vector<CarriedShare> c = carried(held_by({{0.2, 0.24, 0.06}}), 0.35);
    ASSERT_EQ(c.size(), 1U);
    EXPECT_EQ(c[0].share, 1);
    EXPECT_NEAR(c[0].lever_m, 0.15, 1e-15);
}

// A hair between two middles must not make one push and the other pull with many times the weight.
TEST(CarriedShares, OfForksSideBySideShareTheCoupleByWhatTheyPressOn) {
    const std::vector<CarriedShare> c = carried(held_by({{0.20, 0.24, 0.06}, {0.20, 0.241, 0.02}}), 0.35);
    ASSERT_EQ(c.size(), 2U);
    EXPECT_EQ(c[0].share, 0.5);
    EXPECT_EQ(c[1].share, 0.5);
    const double left = 0.35 - 0.2405;
    EXPECT_NEAR(c[0].lever_m, 0.5 * 0.04 + 0.75 * left, 1e-15);
    EXPECT_NEAR(c[1].lever_m, 0.5 * 0.041 + 0.25 * left, 1e-15);
}

TEST(CarriedShares, AForkThatFindsNoFleshCarriesNothing) {
    const std::vector<CarriedShare> c = carried(held_by({{0.20, 0.24, 0}, {0.60, 0.55, 0.06}}), 0.4);
    ASSERT_EQ(c.size(), 1U);
    EXPECT_EQ(c[0].fork, 1);
    EXPECT_EQ(c[0].share, 1);
}

TEST(PushesTogether, AreTheWorstOfATurn) {
    const bool held = rc::check("against a fine turn", [] {
        const double upright = *rc::gen::inRange(-100, 100) / 50.0,
                     round = *rc::gen::inRange(-100, 100) / 50.0;
        const double tine = *rc::gen::inRange(0, 360) * std::numbers::pi / 180,
                     heavy = *rc::gen::inRange(0, 360) * std::numbers::pi / 180;
        double worst = 0;
        for (int k = 0; k < 7200; ++k) {
            const double turn = 2 * std::numbers::pi * k / 7200;
            // Down is −z; round the rod at a clock is (−sin, cos), and the flesh is pushed against the
            // torque.
            const double push = -round * std::cos(heavy + turn), at = tine + turn;
            worst = std::max(worst, std::hypot(push * -std::sin(at), push * std::cos(at) - upright));
        }
        RC_ASSERT(std::abs(pushes_together(upright, round, tine, heavy) - worst) < 1e-6 * (1 + worst));
    });
    EXPECT_TRUE(held);
}

}  // namespace evenspit
