// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "units/quantity.h"

namespace evenspit::scan {

/// A thing of known size that stands on the board beside the body while both are scanned.
struct BesideThing {
    enum class Kind : std::uint8_t {
        can,   ///< upright and round; its size is how wide it is across its straight wall
        block  ///< a box with a flat top; its size is how high it stands
    };
    Kind kind = Kind::can;
    double size_m = 0;

    friend bool operator==(const BesideThing&, const BesideThing&) = default;
};

/// How far off a size is that was read from a ruler to whole millimetres: σ of what is even over ±0.5 mm.
inline constexpr double ruler_sigma_m = 0.29e-3;

/// Reads "can 73 mm" or "block 4 in".
///
/// \throws QuantityError for another thing, no length, or a size that no such thing has
BesideThing parse_beside(std::string_view text);

/// "can", "block"
std::string_view name_of(BesideThing::Kind kind);

/// "a can 73 mm across", "a block 100 mm high"
std::string words_of(const BesideThing& thing, UnitSystem units = UnitSystem::metric);

}  // namespace evenspit::scan
