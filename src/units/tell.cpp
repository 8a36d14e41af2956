// SPDX-License-Identifier: MIT
#include "units/tell.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

namespace evenspit {
namespace {

constexpr double full_turn = 360;

double degrees(double angle_rad) {
    return angle_rad * 180 / std::numbers::pi;
}

}  // namespace

std::string share_text(double share, int digits) {
    if (!std::isfinite(share)) return "not known";
    const double hundredths = 100 * share;
    constexpr double nothing = 1e-12;
    if (std::abs(hundredths) < nothing) return "0 %";
    // Places as after rounding: 9.96 with two digits is 10.
    const auto places = [](double value) {
        return static_cast<int>(std::floor(std::log10(std::abs(value))));
    };
    const double unit = std::pow(10, places(hundredths) - digits + 1);
    const double rounded = std::round(hundredths / unit) * unit;
    const int decimals = std::max(digits - 1 - places(rounded), 0);
    std::string text = fmt::format("{:.{}f}", hundredths, decimals);
    if (text.find('.') != std::string::npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') text.pop_back();
    }
    return text + " %";
}

std::string of_100_text(double share) {
    const double of_100 = 100 * share;
    if (of_100 > 0 && of_100 < 1) return "fewer than 1";
    if (of_100 > 99 && of_100 < 100) return "more than 99";
    return fmt::format("{:.0f}", of_100);
}

std::string chance_text(double share) {
    if (share <= 0) return "no mounting";
    if (share >= 1) return "every mounting";
    return of_100_text(share) + " of 100 mountings";
}

double turn_degrees(double angle_rad) {
    const double turn = std::fmod(degrees(angle_rad), full_turn);
    const double positive = turn < 0 ? turn + full_turn : turn;
    // The rounding of a tiny negative angle must not end at 360.
    return positive >= full_turn ? 0 : positive;
}

std::string angle_text(double angle_rad) {
    // No "-0°".
    return fmt::format("{:.0f}°", std::round(degrees(angle_rad)) + 0.0);
}

std::string clock_text(double clock_rad) {
    return fmt::format("{:.0f}°", std::fmod(std::round(turn_degrees(clock_rad)), full_turn));
}

}  // namespace evenspit
