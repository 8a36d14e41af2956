// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <initializer_list>
#include <numbers>

#include <fmt/format.h>

#include "units/quantity.h"
#include "units/unit_table.h"

namespace evenspit {

namespace {

using enum Dimension;
using namespace unit_factors;

// Decimal digits behind the point that leave `digits` significant ones.
int decimals_for(double value, int digits) {
    if (value == 0) return 0;
    // Printed first, so that 9.996 counts as the 10.0 it becomes.
    const std::string scientific = fmt::format("{:.{}e}", std::abs(value), digits - 1);
    const int exponent = std::atoi(scientific.c_str() + scientific.find('e') + 1);
    return digits - 1 - exponent;
}

double rounded(double value, int digits) {
    return std::strtod(fmt::format("{:.{}e}", value, digits - 1).c_str(), nullptr);
}

// Without an exponent where that stays readable, and without zeros that say nothing.
std::string significant(double value, int digits) {
    const int decimals = decimals_for(value, digits);
    if (decimals > digits + 6 || decimals < -9) return fmt::format("{:.{}e}", value, digits - 1);
    std::string text = fmt::format("{:.{}f}", rounded(value, digits), std::max(decimals, 0));
    if (text.find('.') != std::string::npos) {
        while (text.back() == '0') text.pop_back();
        if (text.back() == '.') text.pop_back();
    }
    return text == "-0" ? "0" : text;
}

struct Scale {
    double from;            // least size, SI, from which this unit is used
    std::string_view unit;  // as printed, with its space
    double factor;
};

std::string scaled(double si, int digits, std::initializer_list<Scale> scales) {
    const Scale* chosen = scales.begin();
    for (const Scale& scale : scales) {
        // Rounded first, so that 999.9 g becomes 1 kg and not 1000 g.
        if (rounded(std::abs(si), digits) >= scale.from * (1 - 1e-12)) chosen = &scale;
    }
    return significant(si / chosen->factor, digits) + std::string(chosen->unit);
}

// "12 lb 8 oz": a number of small units told in large and small ones. Rounded before it is split, so that no
// "12 lb 16 oz" comes out.
std::string split(double small_units, int ratio, std::string_view large, std::string_view small, int digits,
                  bool keep_zero) {
    const double total = rounded(std::abs(small_units), digits);
    const double whole = std::floor(total / ratio + 1e-12);
    // The rest keeps the total's decimals; its own digits are fewer.
    const int decimals = std::max(0, decimals_for(total, digits));
    std::string rest = fmt::format("{:.{}f}", std::max(0.0, total - whole * ratio), decimals);
    if (rest.find('.') != std::string::npos) {
        while (rest.back() == '0') rest.pop_back();
        if (rest.back() == '.') rest.pop_back();
    }
    std::string text = fmt::format("{}{:.0f} {}", small_units < 0 ? "-" : "", whole, large);
    if (rest != "0" || keep_zero) text += fmt::format(" {} {}", rest, small);
    return text;
}

std::string format_mass(double kg, UnitSystem system, int digits) {
    if (system == UnitSystem::metric) return scaled(kg, digits, {{0, " g", 1e-3}, {1, " kg", 1}});
    const double total_oz = rounded(std::abs(kg) / ounce, digits);
    if (total_oz < 16) return significant(kg / ounce, digits) + " oz";
    if (decimals_for(total_oz, digits) < 0) return significant(kg / pound, digits) + " lb";
    return split(kg / ounce, 16, "lb", "oz", digits, true);
}

std::string format_time(double s, int digits) {
    if (rounded(std::abs(s), digits) < 60) return significant(s, digits) + " s";
    if (rounded(std::abs(s), digits) < 3600) return split(s, 60, "min", "s", digits, false);
    if (decimals_for(s / 60, digits) < 0) return significant(s / 3600, digits) + " h";
    return split(s / 60, 60, "h", "min", digits, false);
}

std::string format_temperature(double kelvin, UnitSystem system, int digits) {
    const double value =
        system == UnitSystem::metric ? kelvin - celsius_zero_k : kelvin * 1.8 - fahrenheit_zero_shift;
    // The difference of two large numbers: what is left below a millionth of a degree is rounding.
    const double clean = std::round(value * 1e6) / 1e6;
    return significant(clean, digits) + (system == UnitSystem::metric ? " °C" : " °F");
}

}  // namespace

std::string format_quantity(double si, Dimension dimension, UnitSystem system, int digits) {
    digits = std::max(digits, 1);
    const bool metric = system == UnitSystem::metric;
    switch (dimension) {
        case number:
            return significant(si, digits);
        case share:
            return significant(si * 100, digits) + " %";
        case length:
            return metric ? scaled(si, digits, {{0, " mm", 1e-3}, {1, " m", 1}})
                          : scaled(si, digits, {{0, " in", inch}, {10 * foot, " ft", foot}});
        case mass:
            return format_mass(si, system, digits);
        case Dimension::time:
            return format_time(si, digits);
        case temperature:
            return format_temperature(si, system, digits);
        case temperature_difference:
            return significant(metric ? si : si * 1.8, digits) + (metric ? " K" : " °F");
        case angle:
            return significant(si / degree, digits) + "°";
        case angular_speed:
            return significant(si * 60 / (2 * std::numbers::pi), digits) + " rpm";
        case force:
            return significant(metric ? si : si / (pound * gravity), digits) + (metric ? " N" : " lbf");
        case torque:
            if (metric) return significant(si, digits) + " N m";
            return scaled(si, digits,
                          {{0, " lbf in", pound * gravity * inch}, {10, " lbf ft", pound * gravity * foot}});
        case torsional_stiffness:
            return metric ? significant(si, digits) + " N m/rad"
                          : significant(si / (pound * gravity * inch), digits) + " lbf in/rad";
        case pressure:
            return metric
                       ? scaled(si, digits,
                                {{0, " Pa", 1}, {1e3, " kPa", 1e3}, {1e6, " MPa", 1e6}, {1e9, " GPa", 1e9}})
                       : scaled(si, digits, {{0, " psi", psi}, {1e4 * psi, " ksi", 1e3 * psi}});
        case density:
            return metric ? significant(si, digits) + " kg/m³"
                          : significant(si * foot * foot * foot / pound, digits) + " lb/ft³";
        case heat_transfer_coefficient:
            return significant(si, digits) + " W/(m² K)";
        case conductivity:
            return significant(si, digits) + " W/(m K)";
        case specific_heat:
            return scaled(si, digits, {{0, " J/(kg K)", 1}, {1e3, " kJ/(kg K)", 1e3}});
        case power:
            return scaled(si, digits, {{0, " W", 1}, {1e3, " kW", 1e3}});
    }
    return significant(si, digits);
}

}  // namespace evenspit
