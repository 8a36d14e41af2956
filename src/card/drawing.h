// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "analysis/results.h"
#include "card/sheet.h"
#include "load/assembly.h"
#include "units/quantity.h"

namespace evenspit::card {

/// Closed lines round an item, m, as seen() has them.
using Outlines = std::vector<std::vector<Vec2>>;

/// A load and how it is drawn.
struct DrawnLoad {
    const Assembly& load;
    const Analysis& analysis;
    UnitSystem units = UnitSystem::metric;
    std::vector<Outlines> from_front{}, from_point{};  ///< one for each item
};

/// With its outlines, which take longer to find than to draw.
DrawnLoad drawn_load(const Assembly& load, const Analysis& analysis, UnitSystem units);

/// How much room a drawing has, and with which letters.
struct DrawingRoom {
    const MeasureText& measure;
    double width_pt = 0;
    double most_height_pt = 0;
    double letter_pt = 9;
};

/// The load on its rod at the start of the turn, from the front (motor at the left), to scale: bodies' real
/// outlines, forks, counterweights, and the walls and coals beside them, cut along the rod. Distances from
/// the rod's square end stand over it for forks and counterweights, and under it for where the rod goes into
/// the meat and comes out.
///
/// \return a sheet as wide as the room, as high as it came out
Sheet side_drawing(const DrawnLoad& drawn, const DrawingRoom& room);

/// The same from the rod's point, inside a clock face that is as large as the load reaches; places of tines
/// and counterweights by the numbers of their forks and weights.
///
/// \return a square sheet as wide as the room
Sheet dial_drawing(const DrawnLoad& drawn, const DrawingRoom& room);

/// What stands on the clock face, a few words each: "turkey: breast at 12 o'clock".
std::vector<std::string> dial_words(const Assembly& load, UnitSystem units);

}  // namespace evenspit::card
