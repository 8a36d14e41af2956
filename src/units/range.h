// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "units/quantity.h"

namespace evenspit {

/// What a quantity may be beside its dimension.
enum class Range { any, positive, not_negative };

/// The sizes that a quantity of a roast can have, SI, whatever its sign. 0 is none of them, but no less
/// sensible.
struct SensibleSizes {
    double least, greatest;
};

/// The one place for these. Wide of anything on a spit: what lies beyond is a slip, and would only overflow.
SensibleSizes sensible_sizes(Dimension dimension);

/// Whether a value is in a range and of a sensible size. Near-zero values are refused only where `positive`
/// is asked for: a place may be as near to 0 as one likes, a thickness may not.
bool within(double si, Dimension dimension, Range range);

/// What within() asks for, in words: "a length above zero", "a mass of at most 100000 kg". `si` decides which
/// of its bounds is worth telling.
std::string expected_quantity(Dimension dimension, Range range);
std::string expected_quantity(double si, Dimension dimension, Range range);

/// parse_quantity() with a range.
///
/// \throws QuantityError as that does, and for a value out of the range or of no sensible size
double parse_quantity_within(std::string_view text, Dimension dimension, Range range);

}  // namespace evenspit
