// SPDX-License-Identifier: MIT
#include "units/tell.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <string_view>

#include <fmt/format.h>

#include "units/unit_table.h"

namespace evenspit {
namespace {

constexpr double full_turn = 360;

constexpr std::string_view not_known = "not known";
/// As finely as figures are told to tell them from a limit.
constexpr int finest = 5;

double degrees(double angle_rad) {
    return angle_rad * 180 / std::numbers::pi;
}

/// How many steps a value is. The slack is rounding: 12 mm are not 13 steps of 1 mm.
double steps_in(double value, double step, Rounding rounding) {
    constexpr double slack = 1e-6;
    const double steps = value / step;
    return rounding == Rounding::up ? std::ceil(steps - slack) : std::round(steps);
}

/// With that many decimals, without zeros at the end and without "-0".
std::string decimals_text(double value, int decimals) {
    std::string text = fmt::format("{:.{}f}", value, decimals);
    if (text.find('.') != std::string::npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') text.pop_back();
    }
    return text == "-0" ? "0" : text;
}

/// "5 3/16", "3/16", "-1 1/2", "0": as many parts of a whole.
std::string fraction_text(long parts, long whole) {
    const std::string sign = parts < 0 ? "-" : "";
    parts = std::abs(parts);
    const long wholes = parts / whole, left = parts % whole, common = std::gcd(left, whole);
    if (left == 0) return fmt::format("{}{}", sign, wholes);
    const std::string fraction = fmt::format("{}/{}", left / common, whole / common);
    return wholes == 0 ? sign + fraction : fmt::format("{}{} {}", sign, wholes, fraction);
}

std::string length_in_steps(double m, UnitSystem units, bool slack, int finer, Rounding rounding) {
    if (units == UnitSystem::us) {
        constexpr int fractions = 2;  // 1/32 in and 1/64 in; finer than that are decimals
        const double inches = m / unit_factors::inch;
        if (finer <= fractions) {
            const long parts = 16L << finer;
            return fraction_text(std::lround(steps_in(inches, 1.0 / static_cast<double>(parts), rounding)),
                                 parts) +
                   " in";
        }
        return decimals_text(inches, finer) + " in";
    }
    constexpr double mm = 1e-3, coarse_from = 9.95e-3;
    const int decimals = finer + (slack && std::abs(m) < coarse_from ? 1 : 0);
    const double step = std::pow(10, -decimals);
    return decimals_text(steps_in(m / mm, step, rounding) * step, decimals) + " mm";
}

std::string grams_text(double kg, double step_g, Rounding rounding) {
    const double grams = steps_in(1e3 * kg, step_g, rounding) * step_g;
    constexpr double g_per_kg = 1000;
    return std::abs(grams) < g_per_kg ? decimals_text(grams, 0) + " g"
                                      : decimals_text(grams / g_per_kg, 2) + " kg";
}

std::string ounces_text(double kg, Rounding rounding) {
    constexpr long quarters = 4, ounces_per_pound = 16;
    const double ounces = kg / unit_factors::ounce;
    const long fine = std::lround(steps_in(ounces, 1.0 / quarters, rounding));
    if (std::abs(fine) < quarters * ounces_per_pound) return fraction_text(fine, quarters) + " oz";
    const long whole = std::lround(steps_in(ounces, 1, rounding)), size = std::abs(whole);
    std::string text = fmt::format("{}{} lb", whole < 0 ? "-" : "", size / ounces_per_pound);
    if (size % ounces_per_pound != 0) text += fmt::format(" {} oz", size % ounces_per_pound);
    return text;
}

std::string torque_in_digits(double n_m, UnitSystem units, int digits, Rounding rounding) {
    if (rounding == Rounding::up && n_m > 0) {
        // To the next step of the last digit that is told, in the unit that it is told in.
        const double unit = units == UnitSystem::metric ? 1 : parse_quantity("1 lbf in", Dimension::torque);
        const double step = unit * std::pow(10, std::floor(std::log10(n_m / unit)) + 1 - digits);
        n_m = steps_in(n_m, step, rounding) * step;
    }
    return format_quantity(n_m, Dimension::torque, units, digits);
}

/// One and the same but for a double's rounding.
bool alike(double figure, double limit) {
    constexpr double rounding = 1e-12;
    return !(std::abs(figure - limit) > rounding);
}

/// How much finer a figure must be told, so that no limit is told alike. Rounding keeps order: what is told
/// differently is told on its right side. `text` tells a value so much finer.
template <typename Text>
int finer_by(double figure, Limits limits, const Text& text) {
    int finer = 0;
    for (const double limit : limits) {
        if (alike(figure, limit)) continue;
        while (finer <= finest && text(figure, finer) == text(limit, finer)) ++finer;
    }
    return finer;
}

template <typename Text>
std::string told_so(double figure, Limits limits, int finer, const Text& text) {
    std::string told = text(figure, finer);
    for (const double limit : limits) {
        if (alike(figure, limit) || told != text(limit, finer)) continue;
        return (figure < limit ? "just under " : "just over ") + told;
    }
    return told;
}

template <typename Text>
std::string told_apart(double figure, Limits limits, const Text& text) {
    if (!std::isfinite(figure)) return std::string(not_known);
    const int finer = finer_by(figure, limits, text);
    // What no digit tells apart is told with few.
    const bool apart = finer <= finest;
    return told_so(figure, limits, apart ? finer : 0, text);
}

template <typename Text>
Beside both_told(double figure, double limit, const Text& text) {
    if (!std::isfinite(figure)) return {std::string(not_known), text(limit, 0)};
    const int finer = finer_by(figure, {limit}, text), shown = finer <= finest ? finer : 0;
    return {told_so(figure, {limit}, shown, text), text(limit, shown)};
}

}  // namespace

std::string length_text(double m, UnitSystem units, Limits limits, Rounding rounding) {
    return told_apart(m, limits, [&](double value, int finer) {
        return length_in_steps(value, units, false, finer, rounding);
    });
}

Beside length_beside(double m, double limit_m, UnitSystem units) {
    return both_told(m, limit_m, [&](double value, int finer) {
        return length_in_steps(value, units, false, finer, Rounding::nearest);
    });
}

std::string slack_text(double m, UnitSystem units, Limits limits) {
    return told_apart(m, limits, [&](double value, int finer) {
        return length_in_steps(value, units, true, finer, Rounding::nearest);
    });
}

Beside slack_beside(double m, double limit_m, UnitSystem units) {
    return both_told(m, limit_m, [&](double value, int finer) {
        return length_in_steps(value, units, true, finer, Rounding::nearest);
    });
}

std::string mass_text(double kg, UnitSystem units) {
    if (!std::isfinite(kg)) return std::string(not_known);
    if (units == UnitSystem::us) return ounces_text(kg, Rounding::nearest);
    constexpr double fine_below_kg = 0.1;
    return grams_text(kg, std::abs(kg) < fine_below_kg ? 1 : 10, Rounding::nearest);
}

std::string weight_text(double kg, UnitSystem units, Rounding rounding) {
    if (!std::isfinite(kg)) return std::string(not_known);
    const bool metric = units == UnitSystem::metric;
    // Something must be set.
    if (rounding == Rounding::up) kg = std::max(kg, metric ? 0.005 : unit_factors::ounce / 4);
    if (!metric) return ounces_text(kg, rounding);
    return grams_text(kg, std::abs(kg) < 1 ? 5 : 10, rounding);
}

std::string torque_text(double n_m, UnitSystem units, Limits limits, Rounding rounding) {
    return told_apart(n_m, limits, [&](double value, int finer) {
        return torque_in_digits(value, units, 2 + finer, rounding);
    });
}

Beside torque_beside(double n_m, double limit_n_m, UnitSystem units) {
    return both_told(n_m, limit_n_m, [&](double value, int finer) {
        return torque_in_digits(value, units, 2 + finer, Rounding::nearest);
    });
}

std::string share_text(double share, Limits limits) {
    constexpr double nothing = 1e-6, half = 0.005;
    if (share > nothing && share < half) return "under 1 %";
    return told_apart(share, limits,
                      [](double value, int finer) { return decimals_text(100 * value, finer) + " %"; });
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
