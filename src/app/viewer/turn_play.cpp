// SPDX-License-Identifier: MIT
#include "app/viewer/turn_play.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenspit::viewer {
namespace {

constexpr double full_turn = 2 * std::numbers::pi;
// Whoever leaves the window hidden for an hour does not want an hour's turns computed.
constexpr double longest_leap_s = 5;

}  // namespace

void TurnPlay::set(double angle) {
    angle_rad = std::fmod(angle, full_turn);
    if (angle_rad < 0) angle_rad += full_turn;
}

void TurnPlay::advance(double seconds, const Balance& balance, const Motor& motor) {
    if (!playing) return;
    set(angle_after(balance, motor, angle_rad, std::clamp(seconds, 0.0, longest_leap_s) * pace));
}

}  // namespace evenspit::viewer
