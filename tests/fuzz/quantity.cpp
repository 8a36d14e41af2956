// SPDX-License-Identifier: MIT
#include "units/quantity.h"

#include <cmath>

#include "finding.h"
#include "targets.h"

// Any text as any dimension; what is read prints as something that reads again.
void evenspit::fuzz::quantity(std::string_view bytes) {
    try {
        demand(parse_length_unit(bytes) > 0, "a unit of no length");
    } catch (const QuantityError&) {
    }
    for (int k = int(Dimension::number); k <= int(Dimension::power); ++k) {
        const auto dimension = Dimension(k);
        double value = 0;
        try {
            value = parse_quantity(bytes, dimension);
        } catch (const QuantityError&) {
            continue;
        }
        demand(std::isfinite(value), "a quantity that is not finite");
        // Larger or smaller ones leave the range of a double on the way through a unit.
        if (value != 0 && !(std::abs(value) > 1e-200 && std::abs(value) < 1e200)) continue;
        // What is colder than one kelvin can round past absolute zero.
        if (dimension == Dimension::temperature && value < 1) continue;
        for (const UnitSystem system : {UnitSystem::metric, UnitSystem::us}) {
            const std::string text = format_quantity(value, dimension, system);
            try {
                demand(std::isfinite(parse_quantity(text, dimension)), text);
            } catch (const QuantityError& error) {
                throw Finding("'" + text + "' does not read back: " + error.found());
            }
        }
    }
}
