// SPDX-License-Identifier: MIT
#include "units/range.h"

#include <cmath>

#include <fmt/format.h>

#include "units/metric.h"
#include "units/quote.h"

namespace evenspit {

// Common practice, no source: at least two powers of ten beyond what cooks, motors and their materials have.
SensibleSizes sensible_sizes(Dimension dimension) {
    using enum Dimension;
    switch (dimension) {
        case number:
            return {1e-6, 1e6};
        case share:
            return {1e-9, 1e6};
        case length:
            return {1e-6, 1e3};
        case mass:
            return {1e-6, 1e5};
        case Dimension::time:
            return {1e-3, 1e8};
        case temperature:
        case temperature_difference:
            return {1e-6, 1e4};
        case angle:
            return {1e-9, 1e6};
        case angular_speed:
            return {1e-6, 1e4};
        case force:
            return {1e-9, 1e9};
        case torque:
            return {1e-9, 1e6};
        case torsional_stiffness:
            return {1e-6, 1e9};
        case pressure:
            return {1e-3, 1e13};
        case density:
            return {1e-3, 1e5};
        case heat_transfer_coefficient:
            return {1e-3, 1e6};
        case conductivity:
            return {1e-6, 1e5};
        case specific_heat:
            return {1e-3, 1e6};
        case power:
            return {1e-6, 1e9};
    }
    return {0, HUGE_VAL};
}

bool within(double si, Dimension dimension, Range range) {
    const auto [least, greatest] = sensible_sizes(dimension);
    if (!(std::abs(si) <= greatest)) return false;
    switch (range) {
        case Range::any:
            return true;
        case Range::positive:
            return si >= least;
        case Range::not_negative:
            return si >= 0;
    }
    return true;
}

std::string expected_quantity(Dimension dimension, Range range) {
    switch (range) {
        case Range::any:
            break;
        case Range::positive:
            return fmt::format("{} above zero", dimension_name(dimension));
        case Range::not_negative:
            return fmt::format("{} not below zero", dimension_name(dimension));
    }
    return std::string(dimension_name(dimension));
}

std::string expected_quantity(double si, Dimension dimension, Range range) {
    const auto [least, greatest] = sensible_sizes(dimension);
    if (!(std::abs(si) <= greatest))
        return fmt::format("{} of at most {}", dimension_name(dimension), metric(greatest, dimension));
    if (range == Range::positive && si > 0 && si < least)
        return fmt::format("{} of at least {}", dimension_name(dimension), metric(least, dimension));
    return expected_quantity(dimension, range);
}

double parse_quantity_within(std::string_view text, Dimension dimension, Range range) {
    double si = 0;
    try {
        si = parse_quantity(text, dimension);
    } catch (const QuantityError& error) {
        throw QuantityError(error.found(), expected_quantity(dimension, range), error.mend());
    }
    if (within(si, dimension, range)) return si;
    const bool sized = std::abs(si) <= sensible_sizes(dimension).greatest && !(si > 0);
    throw QuantityError(in_quotes(text), expected_quantity(si, dimension, range),
                        sized ? "" : "check the number and its unit");
}

}  // namespace evenspit
