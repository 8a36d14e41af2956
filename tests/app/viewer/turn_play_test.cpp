// SPDX-License-Identifier: MIT
#include "app/viewer/turn_play.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "analysis/balance.h"
#include "analysis/loads.h"
#include "analysis/turning.h"

namespace evenspit::viewer {
namespace {

using std::numbers::pi;
using test::degree;
using test::lopsided;

TEST(TurnPlay, AWholeTurnTakesWhatTheAnalysisSays) {
    const Balance balance = lopsided(2, 30 * degree);
    const Motor motor = test::small_motor();
    const double turn_s = 2 * pi / *turning(balance, motor).speed_mean_rad_s;
    for (const int pieces : {1, 40, 977}) {
        TurnPlay play{.angle_rad = 0, .playing = true, .pace = 1};
        double angle = 0, before = 0;
        for (int i = 0; i < 40 * pieces; ++i) {
            play.advance(turn_s / (40 * pieces), balance, motor);
            angle += std::remainder(play.angle_rad - before, 2 * pi);
            before = play.angle_rad;
        }
        EXPECT_NEAR(angle, 2 * pi, 2e-4) << pieces;
    }
}

TEST(TurnPlay, LingersWhereItLifts) {
    const Balance balance = lopsided(3, 0);
    const Motor motor = test::small_motor();
    // At angle 0 the heavy side is at +Y, where lifting it needs the most.
    EXPECT_NEAR(motor_torque_at(balance, 0), 3.05, 1e-12);
    EXPECT_LT(speed_at(balance, motor, 0), speed_at(balance, motor, pi));
    int lifting = 0;
    TurnPlay play{.angle_rad = 0, .playing = true, .pace = 1};
    for (int i = 0; i < 1000; ++i) {
        play.advance(0.05, balance, motor);
        if (std::cos(play.angle_rad) > 0) ++lifting;
    }
    EXPECT_GT(lifting, 650);
}

TEST(TurnPlay, TheWatchersTimeRunsAtThePace) {
    const Balance balance = lopsided(2, 1);
    const Motor motor = test::small_motor();
    TurnPlay play{.angle_rad = 0, .playing = true, .pace = 4};
    play.advance(0.5, balance, motor);
    EXPECT_EQ(play.angle_rad, angle_after(balance, motor, 0, 2));
}

TEST(TurnPlay, GoesOnlyWhenPlayingAndStaysWithinATurn) {
    TurnPlay play;
    play.advance(10, lopsided(1, 0), test::small_motor());
    EXPECT_EQ(play.angle_rad, 0);
    play.set(-0.1);
    EXPECT_NEAR(play.angle_rad, 2 * pi - 0.1, 1e-12);
    play.set(7);
    EXPECT_NEAR(play.angle_rad, 7 - 2 * pi, 1e-12);
}

}  // namespace
}  // namespace evenspit::viewer
