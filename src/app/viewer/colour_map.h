// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace evenspit::viewer {

/// Red, green and blue as a display takes them (sRGB).
using Rgb8 = std::array<std::uint8_t, 3>;

inline constexpr std::size_t map_colours = 256;

/// Colours for a range of values, the least first: from a dark blue to a light yellow.
///
/// A straight line in CIELAB (CIE 15, 2 degree observer, D65), walked in even steps, so that equal
/// differences of value look alike; lightness alone tells the order too, on paper without colours and to
/// every kind of colour vision. Blue to yellow is the axis that red-green deficiencies leave (J. R. Nuñez, C.
/// R. Anderton, R. S. Renslow, "Optimizing colormaps with consideration for color vision deficiency", PLoS
/// ONE 13, 2018).
const std::array<Rgb8, map_colours>& colour_map();

/// The colour of a value in a range; beyond its ends the colour of the end.
Rgb8 colour_in_map(double value, double from, double to);

}  // namespace evenspit::viewer
