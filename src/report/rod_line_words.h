// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "load/assembly.h"
#include "units/quantity.h"

namespace evenspit {

/// Where the rod's middle passes one end of an item, as hands can find it there.
struct FeltEnd {
    /// What can be felt or held against a ruler: the edge of a bird's opening toward breast or back; the top
    /// or the bottom of any other body, as a board laid on it touches it.
    enum class Edge { breast, back, top, bottom };
    /// On whose side of the middle (a bird), or from which side a board held against it touches (any other
    /// body).
    enum class Side { left, right };

    double x_m = 0;  ///< where the item frame has it
    Edge edge = Edge::top;
    double from_edge_m = 0;  ///< straight along z; negative: outside the opening
    Side side = Side::left;
    double aside_m = 0;  ///< straight along y; of a bird from its middle, of any other body from that side
};

/// Where the rod goes in and where it comes out.
struct FeltLine {
    bool openings = false;  ///< of a bird; else places where the rod meets the skin
    std::array<FeltEnd, 2> ends;
};

/// Measured from the nearer edge and the nearer side.
///
/// Of a bird with open vent and neck from the rims of these, left and right as the bird has them (its left is
/// the item frame's −y). Of any other body from the box round it, as one sees it from the drive end with its
/// z upward. Nothing where a bird's openings do not reach as far to the side as the rod runs.
std::optional<FeltLine> felt_line(const Item& item);

/// What to do, in a sentence or two.
std::string rod_line_step(const Item& item, std::string_view name, UnitSystem units);

/// "12 mm toward the breast and 3 mm toward its left from its middle", of a bird, from an offset (y, z) in
/// the item frame. Less than half a millimetre is nothing.
std::string bird_offset_text(const Vec2& offset_m, UnitSystem units = UnitSystem::metric);

}  // namespace evenspit
