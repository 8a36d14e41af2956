// SPDX-License-Identifier: MIT
#include "analysis/balance.h"

#include <cmath>
#include <numbers>

#include <Eigen/Geometry>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "analysis/placed.h"
#include "loads.h"

namespace evenspit {
namespace {

using std::numbers::pi;
using test::degree;
using test::rpm;

Balance balance_of(const std::vector<TurningMass>& masses, double friction_n_m = 0) {
    return balance(masses, test::small_motor(), friction_n_m);
}

double any(double from, double to) {
    return from + (to - from) * *rc::gen::inRange(0, 1000001) / 1e6;
}

std::vector<TurningMass> any_masses() {
    std::vector<TurningMass> masses(*rc::gen::inRange<std::size_t>(1, 8));
    for (TurningMass& m : masses) m = {any(0.05, 8), {any(0, 0.8), any(-0.2, 0.2), any(-0.2, 0.2)}};
    return masses;
}

/// Potential energy of the masses with the rod turned by an angle, J.
double potential_energy(const std::vector<TurningMass>& masses, double turn_rad) {
    const Eigen::AngleAxisd turn(turn_rad, Vec3::UnitX());
    double energy = 0;
    for (const TurningMass& m : masses) energy += m.mass_kg * standard_gravity * (turn * m.centre).z();
    return energy;
}

/// Size of the terms that an unbalance is summed from.
double reach(const std::vector<TurningMass>& masses) {
    double sum = 0;
    for (const TurningMass& m : masses) sum += m.mass_kg * m.centre.norm();
    return sum;
}

Fork one_tine(double mass_kg) {
    return {.at_m = 0.2,
            .points = Facing::point,
            .mass_kg = mass_kg,
            .tines = {{.clock_rad = 90 * degree, .radius_m = 0.03, .length_m = 0.1, .diameter_m = 0.005}}};
}

}  // namespace

TEST(Balance, OneWeightToTheBack) {
    const Balance b = balance_of({{2, {0.3, 0.05, 0}}}, 0.1);
    EXPECT_DOUBLE_EQ(b.mass_kg, 2);
    EXPECT_DOUBLE_EQ(b.centre_x_m, 0.3);
    EXPECT_DOUBLE_EQ(b.unbalance_kg_m.x(), 0.1);
    EXPECT_DOUBLE_EQ(b.unbalance_kg_m.y(), 0);
    EXPECT_DOUBLE_EQ(b.unbalance_kg_m_size, 0.1);
    EXPECT_DOUBLE_EQ(b.heavy_side_rad, 0);
    EXPECT_DOUBLE_EQ(b.gravity_torque_peak_n_m, 0.980665);
    EXPECT_DOUBLE_EQ(b.friction_torque_n_m, 0.1);
    EXPECT_DOUBLE_EQ(b.motor_torque_peak_n_m, 1.080665);
    EXPECT_DOUBLE_EQ(b.rated_torque_n_m, 2.5);
    EXPECT_DOUBLE_EQ(b.motor_use, 1.080665 / 2.5);
    // Level with the axis on the +Y side and turning toward +Z, the weight is lifted: the motor works
    // hardest.
    ASSERT_EQ(torque_curve(b).size(), 360U);
    EXPECT_DOUBLE_EQ(torque_curve(b)[0][0], 0);
    EXPECT_DOUBLE_EQ(torque_curve(b)[0][1], 1.080665);
    EXPECT_NEAR(torque_curve(b)[90][1], 0.1, 1e-15);         // on top
    EXPECT_NEAR(torque_curve(b)[180][1], -0.880665, 1e-15);  // coming down
    EXPECT_NEAR(torque_curve(b)[270][1], 0.1, 1e-15);
    EXPECT_DOUBLE_EQ(torque_curve(b)[359][0], 359);
}

// 3 kg at (10, 20) mm, 1 kg at (−40, 0) mm, 0.5 kg at (0, −100) mm: U = (−10, 10) g m, at 135°.
TEST(Balance, ThreeWeightsByHand) {
    const Balance b = balance_of({{3, {0.2, 0.010, 0.020}}, {1, {0.5, -0.040, 0}}, {0.5, {0.35, 0, -0.100}}});
    EXPECT_DOUBLE_EQ(b.mass_kg, 4.5);
    EXPECT_NEAR(b.centre_x_m, (0.6 + 0.5 + 0.175) / 4.5, 1e-15);
    EXPECT_NEAR(b.unbalance_kg_m.x(), -0.010, 1e-16);
    EXPECT_NEAR(b.unbalance_kg_m.y(), 0.010, 1e-16);
    EXPECT_NEAR(b.unbalance_kg_m_size, 0.010 * std::sqrt(2.0), 1e-16);
    EXPECT_NEAR(b.heavy_side_rad, 135 * degree, 1e-14);
    EXPECT_NEAR(b.couple_kg_m2.x(), 3 * 0.2 * 0.010 - 1 * 0.5 * 0.040 + 0.010 * b.centre_x_m, 1e-16);
    EXPECT_NEAR(b.couple_kg_m2.y(), 3 * 0.2 * 0.020 - 0.5 * 0.35 * 0.100 - 0.010 * b.centre_x_m, 1e-16);
}

TEST(Balance, HeavySideIsWithinOneTurn) {
    for (int clock = 0; clock < 360; clock += 15) {
        const Balance b = balance_of({{1, rod_point(0.3, 0.02, clock * degree)}});
        const double off = std::remainder(b.heavy_side_rad - clock * degree, 2 * pi);
        EXPECT_NEAR(off, 0, 1e-14) << clock;
        EXPECT_GE(b.heavy_side_rad, 0) << clock;
        EXPECT_LT(b.heavy_side_rad, 2 * pi) << clock;
    }
    // A hair below +Y rounds to a whole turn, which is none.
    EXPECT_EQ(balance_of({{1, {0, 0.1, -1e-18}}}).heavy_side_rad, 0);
}

TEST(Balance, NothingAtAllIsBalanced) {
    const Balance b = balance_of({}, 0.2);
    EXPECT_EQ(b.mass_kg, 0);
    EXPECT_EQ(b.unbalance_kg_m_size, 0);
    EXPECT_EQ(b.heavy_side_rad, 0);
    EXPECT_EQ(b.centrifugal_over_weight, 0);
    EXPECT_EQ(b.motor_torque_peak_n_m, 0.2);
    for (const auto& [turn, torque] : torque_curve(b)) EXPECT_EQ(torque, 0.2) << turn;
}

// Virtual work: what the motor gives against gravity is the derivative of the potential energy by the angle.
TEST(Balance, TorqueIsTheSlopeOfThePotentialEnergy) {
    const bool held = rc::check("T(θ) = dV/dθ + friction, and = g |U| cos(heavy side + θ) + friction", [] {
        const std::vector<TurningMass> masses = any_masses();
        const double friction = any(0, 1);
        const Balance b = balance_of(masses, friction);
        const double size = standard_gravity * reach(masses) + friction;
        for (int turn = 0; turn < 360; turn += 7) {
            // The energy is a sine in the angle, so a difference over ±90° is its exact slope, times two.
            const double slope = (potential_energy(masses, (turn + 90) * degree) -
                                  potential_energy(masses, (turn - 90) * degree)) /
                                 2;
            const double torque = torque_curve(b)[static_cast<std::size_t>(turn)][1];
            RC_ASSERT(std::abs(torque - (slope + friction)) <= 1e-14 * size);
            const double formula =
                standard_gravity * b.unbalance_kg_m_size * std::cos(b.heavy_side_rad + turn * degree) +
                friction;
            RC_ASSERT(std::abs(torque - formula) <= 1e-14 * size);
            RC_ASSERT(torque <= b.motor_torque_peak_n_m + 1e-14 * size);
        }
    });
    EXPECT_TRUE(held);
}

TEST(Balance, TurningTheLoadTurnsItsHeavySide) {
    const bool held = rc::check("turning law", [] {
        std::vector<TurningMass> masses = any_masses();
        const double turn = any(-7, 7);
        const Balance before = balance_of(masses);
        for (TurningMass& m : masses) m.centre = Eigen::AngleAxisd(turn, Vec3::UnitX()) * m.centre;
        const Balance after = balance_of(masses);
        const double size = reach(masses);
        const Eigen::Rotation2Dd rotation(turn);
        RC_ASSERT((rotation * before.unbalance_kg_m - after.unbalance_kg_m).norm() <= 1e-14 * size);
        RC_ASSERT((rotation * before.couple_kg_m2 - after.couple_kg_m2).norm() <= 1e-13 * size);
        RC_ASSERT(std::abs(before.gravity_torque_peak_n_m - after.gravity_torque_peak_n_m) <= 1e-12 * size);
        RC_PRE(before.unbalance_kg_m_size > 1e-6 * size);
        RC_ASSERT(std::abs(std::remainder(after.heavy_side_rad - before.heavy_side_rad - turn, 2 * pi)) <=
                  1e-8);
    });
    EXPECT_TRUE(held);
}

TEST(Balance, MovingTheLoadAlongTheRodChangesNothingButItsPlace) {
    const bool held = rc::check("moving law", [] {
        std::vector<TurningMass> masses = any_masses();
        const double way = any(-0.5, 0.5);
        const Balance before = balance_of(masses);
        for (TurningMass& m : masses) m.centre.x() += way;
        const Balance after = balance_of(masses);
        RC_ASSERT(before.unbalance_kg_m == after.unbalance_kg_m);
        RC_ASSERT(std::abs(before.centre_x_m + way - after.centre_x_m) <= 1e-14);
        RC_ASSERT((before.couple_kg_m2 - after.couple_kg_m2).norm() <= 1e-13 * (reach(masses) + 1));
    });
    EXPECT_TRUE(held);
}

TEST(Balance, TheMirrorImageIsHeavyOnTheMirroredSide) {
    const bool held = rc::check("mirror law", [] {
        std::vector<TurningMass> masses = any_masses();
        const Balance before = balance_of(masses);
        for (TurningMass& m : masses) m.centre.z() = -m.centre.z();
        const Balance after = balance_of(masses);
        RC_ASSERT(after.unbalance_kg_m == Vec2(before.unbalance_kg_m.x(), -before.unbalance_kg_m.y()));
        RC_ASSERT(after.gravity_torque_peak_n_m == before.gravity_torque_peak_n_m);
        RC_ASSERT(std::abs(std::remainder(after.heavy_side_rad + before.heavy_side_rad, 2 * pi)) <= 1e-12);
    });
    EXPECT_TRUE(held);
}

TEST(Balance, ACounterweightOppositeCancels) {
    const bool held = rc::check("m r against M e", [] {
        std::vector<TurningMass> masses = any_masses();
        const Balance before = balance_of(masses);
        const double mass = any(0.1, 2);
        masses.push_back(
            {mass, rod_point(any(0, 0.8), before.unbalance_kg_m_size / mass, before.heavy_side_rad + pi)});
        const Balance after = balance_of(masses, 0.1);
        RC_ASSERT(after.unbalance_kg_m_size <= 1e-14 * reach(masses));
        RC_ASSERT(after.motor_torque_peak_n_m <= 0.1 + 1e-12 * reach(masses));
    });
    EXPECT_TRUE(held);
}

// ISO 21940-2 (from memory) names four states of unbalance: static, couple, quasi-static, dynamic.
TEST(Balance, StaticUnbalanceHasNoCouple) {
    const Balance b = balance_of({{2, {0.3, 0.01, 0}}, {1, {0.2, 0, 0}}, {1, {0.4, 0, 0}}});
    EXPECT_GT(b.unbalance_kg_m_size, 0);
    EXPECT_NEAR(b.couple_kg_m2.norm(), 0, 1e-17);
}

TEST(Balance, CoupleUnbalanceMakesNoGravityTorque) {
    const Balance b = balance_of({{1, {0.2, 0.06, 0}}, {1, {0.5, -0.06, 0}}}, 0.07);
    EXPECT_EQ(b.unbalance_kg_m_size, 0);
    EXPECT_EQ(b.gravity_torque_peak_n_m, 0);
    EXPECT_EQ(b.centrifugal_over_weight, 0);
    EXPECT_NEAR(b.couple_kg_m2.x(), -0.3 * 0.06, 1e-16);
    EXPECT_NEAR(b.couple_kg_m2.y(), 0, 1e-16);
    for (const auto& [turn, torque] : torque_curve(b)) EXPECT_NEAR(torque, 0.07, 1e-15) << turn;
}

// One weight beside the shaft, away from the common centre: the couple lies in the unbalance's own plane.
TEST(Balance, QuasiStaticUnbalanceHasItsCoupleInOnePlane) {
    const Balance b = balance_of({{4, {0.3, 0, 0}}, {1, {0.6, 0.03, 0.04}}});
    EXPECT_GT(b.couple_kg_m2.norm(), 0);
    const double across =
        b.unbalance_kg_m.x() * b.couple_kg_m2.y() - b.unbalance_kg_m.y() * b.couple_kg_m2.x();
    EXPECT_NEAR(across, 0, 1e-18);
}

TEST(Balance, DynamicUnbalanceHasItsCoupleInAnotherPlane) {
    const Balance b = balance_of({{4, {0.3, 0, 0}}, {1, {0.6, 0.03, 0}}, {1, {0.1, 0, 0.03}}});
    const double across =
        b.unbalance_kg_m.x() * b.couple_kg_m2.y() - b.unbalance_kg_m.y() * b.couple_kg_m2.x();
    EXPECT_GT(std::abs(across), 0.1 * b.unbalance_kg_m_size * b.couple_kg_m2.norm());
}

// ISO 1940-1 (worked figure as quoted): one unbalance U at 0.1 l, corrected in planes at 0.4 l and 0.6 l,
// takes −2.5 U and +1.5 U.
TEST(Balance, TwoPlanesToOneSideCorrectOneUnbalance) {
    const double length = 0.6, u = 0.01;  // kg m, on a shaft whose own mass is on the axis
    const auto at = [&](double share, double unbalance) {
        return TurningMass{1, {share * length, unbalance, 0}};
    };
    const Balance corrected = balance_of({at(0.1, u), at(0.4, -2.5 * u), at(0.6, 1.5 * u)});
    EXPECT_NEAR(corrected.unbalance_kg_m_size, 0, 1e-17);
    EXPECT_NEAR(corrected.couple_kg_m2.norm(), 0, 1e-17);
    // The static correction alone, in one plane, leaves a couple.
    EXPECT_GT(balance_of({at(0.1, u), at(0.4, -u)}).couple_kg_m2.norm(), 1e-3 * u);
}

// e ω²/g at 3, 4 and 6 rpm for 1 mm: 1.0e-5, 1.8e-5, 4.0e-5.
TEST(Balance, CentrifugalForceIsNothingAtSpitSpeed) {
    Motor motor = test::small_motor();
    const std::vector<TurningMass> one_millimetre{{5, {0.3, 0.001, 0}}};
    for (const auto& [speed, figure] :
         {std::pair{3.0, 1.0e-5}, std::pair{4.0, 1.8e-5}, std::pair{6.0, 4.0e-5}}) {
        motor.speed_rad_s = speed * rpm;
        const Balance b = balance(one_millimetre, motor, 0);
        EXPECT_NEAR(b.centrifugal_over_weight, figure, 0.05e-5) << speed;
        EXPECT_NEAR(b.centrifugal_over_weight, 0.001 * std::pow(speed * rpm, 2) / standard_gravity, 1e-18)
            << speed;
    }
}

// ISO 21940-11 (from memory): grade G = e ω. G 6.3 would allow 20.1, 15.0 and 10.0 mm at 3, 4 and 6 rpm.
TEST(Balance, QualityGradesMeanNothingAtSpitSpeed) {
    Motor motor = test::small_motor();
    for (const auto& [speed, offset_mm] :
         {std::pair{3.0, 20.1}, std::pair{4.0, 15.0}, std::pair{6.0, 10.0}}) {
        motor.speed_rad_s = speed * rpm;
        const Balance b = balance({{6, {0.3, 0, offset_mm * 1e-3}}}, motor, 0);
        const double grade_mm_s = b.unbalance_kg_m_size / b.mass_kg * motor.speed_rad_s * 1e3;
        EXPECT_NEAR(grade_mm_s, 6.3, 0.025) << speed;
        EXPECT_GT(b.gravity_torque_peak_n_m, 0.5) << "and yet it is far out of balance";
    }
}

// The range in closed form against the law at many angles, right beside every flat too.
TEST(TorqueRange, IsTheLeastAndTheGreatestOfATurn) {
    const bool held = rc::check("closed form and a fine turn", [] {
        const FlatsTorque flats{*rc::gen::element(0, 4, 6), *rc::gen::inRange(0, 100) / 100.0};
        const double e_m = *rc::gen::inRange(0, 100) / 1000.0, clock = *rc::gen::inRange(0, 360) * pi / 180;
        const Balance b = balance({{1, {0.3, e_m * std::cos(clock), e_m * std::sin(clock)}}},
                                  test::small_motor(), 0.1, flats);
        double least = INFINITY, greatest = -INFINITY;
        const auto take = [&](double angle) {
            least = std::min(least, motor_torque_at(b, angle));
            greatest = std::max(greatest, motor_torque_at(b, angle));
        };
        for (int k = 0; k < 7200; ++k) take(2 * pi * k / 7200);
        for (int k = 0; k < 12; ++k) {
            take(2 * pi * k / 12 + 1e-9);
            take(2 * pi * k / 12 - 1e-9);
        }
        RC_ASSERT(std::abs(torque_range(b).least_n_m - least) < 1e-5);
        RC_ASSERT(std::abs(torque_range(b).greatest_n_m - greatest) < 1e-5);
        RC_ASSERT(b.motor_torque_peak_n_m == torque_range(b).greatest_n_m);
    });
    EXPECT_TRUE(held);
}

TEST(RodMass, IsSectionTimesLength) {
    const Rod rod = test::steel_rod();
    EXPECT_NEAR(rod_mass(rod), 0.008 * 0.008 * 0.760 * 7900, 1e-15);
    Rod round = rod;
    round.section = Section::round;
    EXPECT_NEAR(rod_mass(round) / rod_mass(rod), pi / 4, 1e-15);
}

// A steel pin of 5 mm by 100 mm weighs π/4 · 0.005² · 0.1 · 7900 = 15.51 g; its middle is 50 mm from the hub.
TEST(ForkCentre, OneTineDrawsItAside) {
    const double pin_kg = pi / 4 * 0.005 * 0.005 * 0.1 * 7900;
    const Vec3 centre = fork_centre(one_tine(0.1));
    EXPECT_NEAR(centre.x(), 0.2 + 0.05 * pin_kg / 0.1, 1e-15);
    EXPECT_NEAR(centre.y(), 0, 1e-15);
    EXPECT_NEAR(centre.z(), 0.03 * pin_kg / 0.1, 1e-15);

    Fork turned_round = one_tine(0.1);
    turned_round.points = Facing::drive;
    EXPECT_NEAR(fork_centre(turned_round).x(), 0.2 - 0.05 * pin_kg / 0.1, 1e-15);
    EXPECT_NEAR(fork_centre(turned_round).z(), centre.z(), 1e-15);
}

TEST(ForkCentre, OppositeTinesCancelAcrossTheRod) {
    const Vec3 centre = fork_centre(test::two_tines(0.3, Facing::point, 0.09, 0.032, 37 * degree));
    EXPECT_GT(centre.x(), 0.3);
    EXPECT_NEAR(centre.tail<2>().norm(), 0, 1e-17);
}

// A fork said to weigh less than its pins in steel is all pins.
TEST(ForkCentre, IsNeverOutsideItsPins) {
    const Vec3 centre = fork_centre(one_tine(0.002));
    EXPECT_NEAR((centre - Vec3(0.25, 0, 0.03)).norm(), 0, 1e-15);
}

TEST(ForkCentre, WithoutTinesOrMassIsTheHub) {
    Fork bare = one_tine(0.1);
    bare.tines.clear();
    EXPECT_EQ(fork_centre(bare), Vec3(0.2, 0, 0));
    EXPECT_EQ(fork_centre(one_tine(0)), Vec3(0.2, 0, 0));
}

TEST(TurningMasses, AreItemsForksCounterweightsAndTheRod) {
    Assembly load = test::good_load();
    load.counterweights.push_back(
        {.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 210 * degree, .diameter_m = 0.04});
    const std::vector<TurningMass> masses = turning_masses(load, Doneness::raw);
    ASSERT_EQ(masses.size(), 5U);
    EXPECT_NEAR(masses[0].mass_kg, 2, 1e-13);
    EXPECT_NEAR((masses[0].centre - Vec3(0.34, 0, 0)).norm(), 0, 1e-15);
    EXPECT_EQ(masses[1].mass_kg, 0.16);
    EXPECT_EQ(masses[2].mass_kg, 0.16);
    EXPECT_EQ(masses[3].mass_kg, 0.3);
    EXPECT_NEAR(
        (masses[3].centre - Vec3(0.1, 0.07 * std::cos(210 * degree), 0.07 * std::sin(210 * degree))).norm(),
        0, 1e-16);
    EXPECT_NEAR(masses[4].mass_kg, rod_mass(load.rod), 1e-15);
    EXPECT_EQ(masses[4].centre, Vec3(0.380, 0, 0));
}

}  // namespace evenspit
