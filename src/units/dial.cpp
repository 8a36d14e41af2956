// SPDX-License-Identifier: MIT
#include "units/dial.h"

#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "units/tell.h"

namespace evenspit {
namespace {

// A turn of the rod is half a day of the face, whose long hand is not there: 5 of its minutes are 2.5°.
constexpr long step_minutes = 5, half_hour = 30, hour = 60, full_face = 12 * hour;
constexpr double minutes_per_radian = full_face / (2 * std::numbers::pi);

/// After 12, to a multiple of the step, under a full face.
long minutes_of(double clock_rad, long step) {
    const double after_twelve = minutes_per_radian * (std::numbers::pi / 2 - clock_rad);
    const long steps = std::lround(std::remainder(after_twelve, full_face) / static_cast<double>(step));
    return (steps * step + full_face) % full_face;
}

/// "12" for none of them.
long hour_name(long hours) {
    const long named = hours % 12;
    return named == 0 ? 12 : named;
}

}  // namespace

std::string dial_text(double clock_rad, DialSteps steps) {
    const long at = minutes_of(clock_rad, steps == DialSteps::minutes ? step_minutes : half_hour);
    const long hours = at / hour, minutes = at % hour;
    if (minutes == 0) return fmt::format("{} o'clock", hour_name(hours));
    if (minutes == half_hour) return fmt::format("half past {}", hour_name(hours));
    const bool past = minutes < half_hour;
    const long off = past ? minutes : hour - minutes;
    // "10 to 11" would be heard as a range.
    const std::string so_many = off == half_hour / 2 ? "a quarter" : fmt::format("{} minutes", off);
    return fmt::format("{} {} {}", so_many, past ? "past" : "to", hour_name(past ? hours : hours + 1));
}

std::string dial_and_clock_text(double clock_rad, DialSteps steps) {
    return fmt::format("{} ({})", dial_text(clock_rad, steps), clock_text(clock_rad));
}

std::string dial_turn_text(double by_rad) {
    const long by = std::lround(minutes_per_radian * std::abs(by_rad) / step_minutes) * step_minutes;
    const long hours = by / hour, minutes = by % hour;
    if (minutes == half_hour) return hours == 0 ? "half an hour" : fmt::format("{} 1/2 hours", hours);
    std::string whole = fmt::format("{} hour{}", hours, hours == 1 ? "" : "s");
    if (minutes == 0) return whole;
    const std::string rest = fmt::format("{} minutes", minutes);
    return hours == 0 ? rest : fmt::format("{} and {}", whole, rest);
}

}  // namespace evenspit
