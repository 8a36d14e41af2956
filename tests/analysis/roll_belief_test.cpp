// SPDX-License-Identifier: MIT
#include "analysis/roll_belief.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include <Eigen/Cholesky>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/balance.h"
#include "analysis/chance.h"
#include "analysis/loads.h"
#include "analysis/roll_posterior.h"
#include "analysis/roll_stand.h"
#include "units/standard_gravity.h"

namespace evenspit {
namespace {

using std::numbers::pi;
using test::degree;

/// The box, its middle off the axis, turning on bushings with a coefficient of friction.
Assembly box_off(const Vec2& off_m, double friction = 0.15) {
    Assembly a = test::good_load();
    a.items = {test::item("roast", test::flesh(test::box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), 0.34,
                          off_m)};
    a.motor.friction_torque_n_m.reset();
    a.motor.support_friction = friction;
    return a;
}

/// Off a friction without spread, hung weights exact.
Assembly sharp(Assembly a) {
    a.spread.friction = 0;
    a.spread.counterweight_radius_m = a.spread.counterweight_clock_rad = a.spread.counterweight_mass = 0;
    return a;
}

HungWeight hung(const Vec2& unbalance_kg_m) {
    return {.mass_kg = unbalance_kg_m.norm() / 0.1,
            .radius_m = 0.1,
            .clock_rad = std::atan2(unbalance_kg_m.y(), unbalance_kg_m.x())};
}

/// What mountings pull to after the test, each with the deviate of its friction.
std::vector<Vec2> unbalances(const Assembly& load, std::size_t count = 1024) {
    Mountings mountings = believed_mountings(load, count);
    std::vector<Vec2> list;
    for (std::size_t k = 0; k < count; ++k)
        list.push_back(rolled_unbalance(mountings.mounting(k), load.roll_tests.front()));
    return list;
}

Vec2 mean_of(const std::vector<Vec2>& list) {
    Vec2 sum = Vec2::Zero();
    for (const Vec2& u : list) sum += u;
    return sum / static_cast<double>(list.size());
}

// --- the test stand ---

TEST(RollStand, BandIsWhereFrictionHolds) {
    EXPECT_NEAR(rest_band_rad(0.05, 0.1), 30 * degree, 1e-12);
    EXPECT_EQ(rest_band_rad(0, 0.1), 0);
    EXPECT_EQ(rest_band_rad(0.1, 0.1), pi);
    EXPECT_EQ(rest_band_rad(0.1, 0), pi);
    EXPECT_EQ(rest_band_rad(0, 0), pi) << "nothing pulls it anywhere";
}

TEST(RollStand, DensityOfRestAddsToOne) {
    for (const double band : {0.0, 0.001, 0.3, pi / 2, pi}) {
        for (const double read : {0.0, 5 * degree, 40 * degree}) {
            double sum = 0;
            constexpr int steps = 200'000;
            for (int i = 0; i < steps; ++i)
                sum += rest_density(-pi + 2 * pi * (i + 0.5) / steps, band, read) * 2 * pi / steps;
            EXPECT_NEAR(sum, 1, 2e-3) << band << ' ' << read;
        }
    }
}

TEST(RollStand, RestsAnywhereWithinTheBandAlike) {
    EXPECT_NEAR(rest_density(0.1, 0.5, 0.01), 1, 1e-6);
    EXPECT_NEAR(rest_density(-0.4, 0.5, 0.01), 1, 1e-6);
    EXPECT_NEAR(rest_density(0.5, 0.5, 0.01), 0.5, 1e-6) << "at the edge half of the readings";
    EXPECT_LT(rest_density(0.6, 0.5, 0.01), 1e-8);
    EXPECT_NEAR(rest_density(2 * pi + 0.1, 0.5, 0.01), 1, 1e-6) << "any turn";
}

TEST(RollStand, BothSupportsSlide) {
    Assembly load = box_off({0.01, 0});
    const RollTest test{.down_rad = 0.0};
    double mass = 0;
    for (const TurningMass& m : turning_masses(load, Doneness::raw)) mass += m.mass_kg;
    const double corner = 0.008 / std::numbers::sqrt2;
    EXPECT_NEAR(stand_friction_n_m(load, test, false), 0.15 * mass * standard_gravity * corner, 1e-12);
    EXPECT_NEAR(stand_friction_n_m(load, {.down_rad = 0.0, .hung = HungWeight{0.5, 0.1, 0}}, true),
                0.15 * (mass + 0.5) * standard_gravity * corner, 1e-12);
    EXPECT_NEAR(stand_friction_n_m(load, {.down_rad = 0.0, .on = RollsOn::rollers}, false),
                0.1 * stand_friction_n_m(load, test, false), 1e-15);
    // A whole torque is the far bearing's; at mid span half of the load is on it.
    load.motor.friction_torque_n_m = 0.02;
    load.rod = test::weightless_rod();
    EXPECT_NEAR(stand_friction_n_m(load, test, false), 0.04, 1e-9);
}

TEST(RollStand, OnlyWeightsThatWereOnCount) {
    Assembly load = box_off({0.01, 0});
    load.counterweights = {
        {.at_m = 0.1, .mass_kg = 0.2, .radius_m = 0.1, .clock_rad = pi, .diameter_m = 0.03},
        {.at_m = 0.6, .mass_kg = 0.1, .radius_m = 0.1, .clock_rad = 0, .diameter_m = 0.03}};
    EXPECT_NEAR(rolled_unbalance(load, {.down_rad = 0.0}).x(), 0.02, 1e-9);
    EXPECT_NEAR(rolled_unbalance(load, {.down_rad = 0.0, .counterweights = {0}}).x(), 0, 1e-9);
    EXPECT_NEAR(rolled_unbalance(load, {.down_rad = 0.0, .counterweights = {0, 1}}).x(), 0.01, 1e-9);
}

// --- what is believed after a test: closed forms ---

/// A prior so wide that it says next to nothing.
RollPrior flat_prior(double friction_n_m) {
    RollPrior prior;
    prior.covariance = Vec3(1, 1, 1e-8).asDiagonal();
    prior.friction_n_m = prior.friction_hung_n_m = friction_n_m;
    return prior;
}

TEST(RollPosterior, StayingAnywhereIsADiscRoundNothing) {
    RollPrior prior = flat_prior(0.0980665);  // holds 0.01 kg m
    prior.covariance = Vec3(0.0025, 0.0025, 1e-8).asDiagonal();
    const RollPosterior posterior = roll_posterior({}, prior);
    ASSERT_FALSE(posterior.draws.empty());
    double sizes = 0;
    for (const Vec3& draw : posterior.draws) {
        EXPECT_LE(draw.head<2>().norm(), 0.01 * (1 + 1e-3));
        sizes += draw.head<2>().norm();
    }
    // Even over a disc of radius r: E|U| = 2r/3, variance r²/4 each way; the prior bends that by 2 %.
    EXPECT_NEAR(sizes / static_cast<double>(posterior.draws.size()), 0.01 * 2 / 3, 1.5e-4);
    EXPECT_NEAR(posterior.mean.x(), 0, 3e-4);
    EXPECT_NEAR(posterior.mean.y(), 0, 3e-4);
    EXPECT_NEAR(posterior.covariance(0, 0), 2.5e-5, 1.5e-6);
}

TEST(RollPosterior, AHoldingWeightIsADiscRoundItsOpposite) {
    const RollTest test{.down_rad = 0.0, .hung = hung({-0.05, 0})};
    const RollPosterior posterior = roll_posterior(test, flat_prior(0.0980665));
    ASSERT_FALSE(posterior.draws.empty());
    for (const Vec3& draw : posterior.draws)
        EXPECT_LE((draw.head<2>() - Vec2(0.05, 0)).norm(), 0.01 * (1 + 1e-3));
    // The narrower a band, the likelier one place in it: the density of the rest, about g |U| / 2T, pulls the
    // mean outward by r²/4 over |U|.
    EXPECT_NEAR(posterior.mean.x(), 0.05 + 0.01 * 0.01 / 4 / 0.05, 3e-4);
    EXPECT_NEAR(posterior.mean.y(), 0, 3e-4);
}

TEST(RollPosterior, WhatAWeightIsOffItselfIsAdded) {
    RollPrior prior = flat_prior(1e-5);  // next to no friction
    prior.hung_covariance = Vec2(4e-6, 1e-6).asDiagonal();
    const RollPosterior posterior =
        roll_posterior({.down_rad = 0.0, .hung = hung({-0.05, 0}), .read_rad = 0.5}, prior);
    EXPECT_NEAR(posterior.mean.x(), 0.05, 2e-4);
    EXPECT_NEAR(posterior.covariance(0, 0), 4e-6, 4e-7);
    EXPECT_NEAR(posterior.covariance(1, 1), 1e-6, 1e-7);
}

TEST(RollPosterior, ASideAloneTellsNoSize) {
    RollPrior prior = flat_prior(1e-6);
    prior.covariance = Vec3(1e-4, 1e-4, 1e-8).asDiagonal();
    const RollPosterior posterior = roll_posterior({.down_rad = 120 * degree, .read_rad = 5 * degree}, prior);
    double sizes = 0, squares = 0;
    for (const Vec3& draw : posterior.draws) {
        sizes += draw.head<2>().norm();
        squares += draw.head<2>().squaredNorm();
        EXPECT_NEAR(std::remainder(std::atan2(draw.y(), draw.x()) - 120 * degree, 2 * pi), 0, 25 * degree);
    }
    // The side is known, the size stays Rayleigh's: mean σ √(π/2), mean square 2σ².
    const auto count = static_cast<double>(posterior.draws.size());
    EXPECT_NEAR(sizes / count, 0.01 * std::sqrt(pi / 2), 3e-4);
    EXPECT_NEAR(squares / count, 2e-4, 1e-5);
}

TEST(RollPosterior, FrictionOpensABandAndIsLearntItself) {
    RollPrior prior;
    prior.mean = Vec3(0.02, 0, 0);
    prior.covariance = Vec3(1e-8, 1e-8, 1).asDiagonal();
    prior.friction_n_m = 0.1;
    prior.friction_spread = 0.3;
    // The heavy side is known to be at 0° and rests 45° off: only much friction does that.
    const RollPosterior off = roll_posterior({.down_rad = 45 * degree, .read_rad = 3 * degree}, prior);
    EXPECT_GT(off.mean.z(), 0.8);
    const RollPosterior under = roll_posterior({.down_rad = 0.0, .read_rad = 3 * degree}, prior);
    EXPECT_LT(under.mean.z(), 0);
}

// --- carried to the inputs ---

TEST(RollBelief, NoTestChangesNoDraw) {
    const Assembly load = box_off({0.01, 0});
    Mountings usual(load, 16), believed = believed_mountings(load, 16);
    for (std::size_t k = 0; k < 16; ++k) {
        for (std::size_t d = 0; d < usual.width(); ++d)
            EXPECT_EQ(usual.deviates(k)[d], believed.deviates(k)[d]);
    }
}

TEST(RollBelief, ATestThatDoesNotCountChangesNoDraw) {
    Assembly load = box_off({0.01, 0});
    const Mountings usual(load, 4);
    load.roll_tests = {{.down_rad = 1.0, .counts = false}};
    EXPECT_TRUE(RollBelief(load).found().empty());
    EXPECT_EQ(believed_mountings(load, 4).mounting(3).items[0].seat.line,
              usual.mounting(3).items[0].seat.line);
}

TEST(RollBelief, EveryMountingGoesWithTheTest) {
    Assembly load = sharp(box_off({0.004, 0.002}));
    load.roll_tests = {{.down_rad = 250 * degree, .hung = hung({0.006, 0.018})}};
    const double disc = stand_friction_n_m(load, load.roll_tests[0], true) / standard_gravity;
    const std::vector<Vec2> after = unbalances(load);
    for (const Vec2& u : after) EXPECT_LE((u + Vec2(0.006, 0.018)).norm(), disc * 1.01);
    const RollFound found = RollBelief(load).found().at(0);
    EXPECT_NEAR((mean_of(after) - found.unbalance_kg_m).norm(), 0, 1e-4);
    const Assembly believed = RollBelief(load).load();
    EXPECT_NEAR((rolled_unbalance(believed, load.roll_tests[0]) - found.unbalance_kg_m).norm(), 0, 1e-6);
}

TEST(RollBelief, InputsShareTheShiftByWhatTheyCanDo) {
    // Without friction and with an exact weight it is the classic update of a normal distribution:
    // E[x | U] = C_xU C_UU⁻¹ (U − E U). Of a 2 kg box the line's ends (4 mm each) move the centre by half
    // each, the centre of mass (2 mm) by itself: var = (16/4 + 16/4 + 4) mm², so that the line takes 8/12 of
    // a shift.
    Assembly load = sharp(box_off({0, 0}, 1e-6));
    load.spread = Spread::none();
    load.spread.rod_line_m = 0.004;
    load.spread.centre_m = 0.002;
    load.roll_tests = {{.down_rad = 0.0, .hung = hung({-0.012, 0})}};  // the centre lies 6 mm off, +y
    const Assembly believed = RollBelief(load).load();
    const Item& item = believed.items[0];
    EXPECT_NEAR(-(item.seat.line.from.x() + item.seat.line.to.x()) / 2, 0.004, 1e-4);
    EXPECT_NEAR(item.off.centre.y(), 0.002, 1e-4);
    EXPECT_NEAR(item.off.centre.z(), 0, 1e-4);
}

TEST(RollBelief, NothingUncertainLearnsNothing) {
    Assembly load = box_off({0.01, 0});
    load.spread = Spread::none();
    load.roll_tests = {{.down_rad = 0.0, .hung = hung({-0.02, 0})}};
    EXPECT_GT(RollBelief(load).found().at(0).contradiction, 0.1);
    EXPECT_NEAR(unbalances(load, 4)[2].x(), 0.02, 1e-9);
    load.roll_tests = {{.down_rad = pi, .hung = hung({0.05, 0})}};
    EXPECT_LT(RollBelief(load).found().at(0).contradiction, 1e-6);
    EXPECT_NEAR(unbalances(load, 4)[2].x(), 0.02, 1e-9);
}

TEST(RollBelief, WhatIsFarFromBeliefContradictsIt) {
    Assembly load = box_off({0.02, 0});  // U = 0.04 ± 0.007 kg m
    const auto contradiction = [&](const RollTest& test) {
        load.roll_tests = {test};
        return RollBelief(load).found().at(0).contradiction;
    };
    EXPECT_GT(contradiction({.down_rad = 5 * degree}), 0.2);
    EXPECT_LT(contradiction({.down_rad = 180 * degree}), roll_contradiction);
    EXPECT_LT(contradiction({}), roll_contradiction) << "it cannot stay anywhere";
    EXPECT_GT(contradiction({.down_rad = 0.0, .hung = hung({-0.042, 0.004})}), 0.2);
    EXPECT_LT(contradiction({.down_rad = 0.0, .hung = hung({-0.09, 0})}), roll_contradiction);
    EXPECT_LT(contradiction({.down_rad = 180 * degree, .hung = hung({-0.04, 0})}), roll_contradiction)
        << "the weight hung at the bottom";
}

TEST(RollBelief, ContradictionsAreAsRareAsTheySay) {
    // Under belief the probability of what is found is even from 0 to 1: so it is for weights that hold.
    Assembly load = sharp(box_off({0.005, 0}, 0.01));
    const Mountings mountings(load, 128);
    int below_tenth = 0, below_half = 0;
    for (std::size_t k = 0; k < mountings.count(); ++k) {
        const Vec2 u = rolled_unbalance(mountings.mounting(k), {});
        load.roll_tests = {{.down_rad = std::atan2(u.y(), u.x()), .hung = hung(-u)}};
        const double p = RollBelief(load).found().at(0).contradiction;
        below_tenth += p < 0.1 ? 1 : 0;
        below_half += p < 0.5 ? 1 : 0;
    }
    EXPECT_LE(below_tenth, 22) << "12.8 expected; two readings count twice, so no more";
    EXPECT_LE(below_half, 80);
    EXPECT_GE(below_tenth, 3);
}

TEST(RollBelief, TestsFoldInOneAfterTheOther) {
    Assembly load = box_off({0.01, 0.01});
    load.roll_tests = {{.down_rad = 40 * degree}};
    const RollFound side = RollBelief(load).found().at(0);
    load.roll_tests.push_back({.down_rad = 40 * degree, .hung = hung({-0.017, -0.014})});
    const RollBelief both(load);
    ASSERT_EQ(both.found().size(), 2U);
    EXPECT_EQ(both.found()[0].unbalance_kg_m, side.unbalance_kg_m);
    EXPECT_LT(both.found()[1].size_sd_kg_m, 0.6 * side.size_sd_kg_m);
    // With the weight for good and the load rolled again, both tests still hold of every mounting.
    load.counterweights = {
        {.at_m = 0.1, .mass_kg = 0.2, .radius_m = 0.1, .clock_rad = 220 * degree, .diameter_m = 0.03}};
    load.roll_tests.push_back({.counterweights = {0}});
    Mountings mountings = believed_mountings(load, 64);
    for (std::size_t k = 0; k < 64; ++k) {
        const Assembly mounted = mountings.mounting(k);
        EXPECT_LT(rolled_unbalance(mounted, load.roll_tests[2]).norm() * standard_gravity,
                  1.05 * stand_friction_n_m(mounted, load.roll_tests[2], false));
    }
}

TEST(RollBelief, TheLoadIsJudgedAsTheTestLeavesIt) {
    Assembly load = box_off({0, 0});
    const double before = judge(load, 256).uncertainty->gravity_torque_p95_n_m;
    load.roll_tests = {{}};
    const Analysis balanced = judge(load, 256);
    EXPECT_LT(balanced.uncertainty->gravity_torque_p95_n_m, 0.5 * before);
    load.roll_tests = {{.down_rad = 0.0, .hung = hung({-0.012, 0})}};
    const Analysis heavy = judge(load, 256);
    EXPECT_NEAR(heavy.balance.gravity_torque_peak_n_m, 0.012 * standard_gravity, 0.01);
    EXPECT_NEAR(heavy.balance.heavy_side_rad, 0, 0.2);
    const auto told = std::find_if(heavy.findings.begin(), heavy.findings.end(),
                                   [](const Finding& f) { return f.code == Code::roll_test; });
    ASSERT_NE(told, heavy.findings.end());
    EXPECT_EQ(told->level, Level::ready);
}

TEST(RollBelief, AContradictionAsksForCare) {
    Assembly load = box_off({0.02, 0});
    load.roll_tests = {{.down_rad = pi}};
    const Analysis a = judge(load, 64);
    EXPECT_GE(a.verdict, Level::care);
    const auto told = std::find_if(a.findings.begin(), a.findings.end(),
                                   [](const Finding& f) { return f.code == Code::roll_test; });
    ASSERT_NE(told, a.findings.end());
    EXPECT_EQ(told->level, Level::care);
    EXPECT_LT(told->value.value(), roll_contradiction);
}

TEST(RollBelief, RollersTellNothingOfTheFriction) {
    Assembly load = box_off({0.01, 0});
    load.roll_tests = {{.on = RollsOn::rollers}};
    const RollBelief belief(load);
    const std::vector<Input>& inputs = belief.inputs().inputs();
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        if (inputs[i].kind != Input::Kind::friction) continue;
        EXPECT_NEAR(belief.mean()(static_cast<Eigen::Index>(belief.inputs().first_deviate(i))), 0, 1e-9);
    }
}

}  // namespace
}  // namespace evenspit
