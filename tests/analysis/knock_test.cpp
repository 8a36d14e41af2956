// SPDX-License-Identifier: MIT
#include "analysis/knock.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "loads.h"

namespace evenspit {
namespace {

using test::rpm;

/// The same by another road: steps a hundred times as fine of the simplest rule, the drive written out.
double by_small_steps(const DriveTrain& train, double gravity, double friction, double speed, double play) {
    double angle = std::acos(-friction / gravity), velocity = speed, drive = angle;
    const double step = 1e-6;
    for (long k = 0; k < 30'000'000; ++k) {
        velocity -= step * (gravity * std::cos(angle) + friction) / train.inertia_kg_m2;
        angle += step * velocity;
        drive += step * speed;
        if (angle - drive >= play) break;
    }
    return std::sqrt(train.stiffness_n_m_rad * train.inertia_kg_m2) * (velocity - speed);
}

}  // namespace

TEST(Knock, IsAsIntegratedInSmallSteps) {
    const DriveTrain train{.inertia_kg_m2 = 0.05, .stiffness_n_m_rad = 400};
    const double play = 3 * test::degree;
    for (const double gravity : {0.06, 0.3, 2.0}) {
        const double knock = knock_torque(train, gravity, 0.05, 3 * rpm, play).value();
        EXPECT_NEAR(knock / by_small_steps(train, gravity, 0.05, 3 * rpm, play), 1, 0.02) << gravity;
    }
}

// With little speed the energy that gravity gives on the way through the play is all that there is: the heavy
// side falls from its top, ½ I Δω² = gravity (1 − cos play).
TEST(Knock, OfASlowDriveIsTheEnergyOfTheFall) {
    const DriveTrain train{.inertia_kg_m2 = 0.02, .stiffness_n_m_rad = 300};
    const double play = 60 * test::degree, gravity = 1;
    // Without friction it leaves the gears as the heavy side passes a quarter turn past the lift's peak.
    const double fall = gravity * (1 - std::cos(play));
    const double expected = std::sqrt(300 * 0.02) * std::sqrt(2 * fall / 0.02);
    EXPECT_NEAR(knock_torque(train, gravity, 0, 0.02 * rpm, play).value() / expected, 1, 0.02);
}

TEST(Knock, GrowsWithThePlay) {
    const DriveTrain train{.inertia_kg_m2 = 0.05, .stiffness_n_m_rad = 400};
    double last = 0;
    for (const double play : {0.5, 1.0, 3.0, 7.0}) {
        const double knock = knock_torque(train, 0.5, 0.05, 3 * rpm, play * test::degree).value();
        EXPECT_GT(knock, last) << play;
        last = knock;
    }
}

TEST(Knock, IsNoneWhereFrictionHolds) {
    EXPECT_EQ(knock_torque({0.05, 400}, 0.05, 0.05, 3 * rpm, 0.05), std::nullopt);
    EXPECT_EQ(knock_torque({0.05, 400}, 0.01, 0.05, 3 * rpm, 0.05), std::nullopt);
}

// A box of 2 kg, 200 × 100 × 100 mm: m (b² + c²) / 12 about its own axis; a quarter metre of rod beyond that.
TEST(Knock, TakesInertiaAndTwistFromTheLoad) {
    Assembly a = test::good_load();
    a.rod = test::weightless_rod();
    a.forks.clear();
    a.items = {test::item("roast", test::flesh(test::box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), 0.34,
                          {0.03, 0.04})};
    const DriveTrain train = drive_train(a, items_on_rod(a, Doneness::raw));
    EXPECT_NEAR(train.inertia_kg_m2, 2 * (0.02 / 12 + 0.05 * 0.05), 1e-12);
    const double shear = 200e9 / 2.6, torsion = 0.1406 * std::pow(0.008, 4);  // Timoshenko and Goodier, §109
    EXPECT_NEAR(train.stiffness_n_m_rad / (shear * torsion / 0.32), 1, 1e-3);
    a.motor.drive_stiffness_n_m_rad = train.stiffness_n_m_rad;
    EXPECT_NEAR(drive_train(a, items_on_rod(a, Doneness::raw)).stiffness_n_m_rad / train.stiffness_n_m_rad,
                0.5, 1e-12)
        << "two springs in series";
}

}  // namespace evenspit
