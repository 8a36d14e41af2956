// SPDX-License-Identifier: MIT
// What the two drawings of a load share. Not for others.
#pragma once

#include <vector>

#include "card/drawing.h"
#include "card/sheet.h"
#include "card/silhouette.h"
#include "load/assembly.h"

namespace evenspit::card {

inline constexpr double meat_grey = 0.86, coal_grey = 0.55, wall_grey = 0.35;

/// From metres as seen() has them to points on a sheet.
struct Scale {
    Vec2 origin_pt = Vec2::Zero();
    double pt_per_m = 1;

    [[nodiscard]] Vec2 operator()(const Vec2& m) const {
        return {origin_pt.x() + pt_per_m * m.x(), origin_pt.y() - pt_per_m * m.y()};
    }
};

/// Walls and coals, cut along the rod or across it at a station, as far as they lie in a part of the sheet.
void draw_cooker(Sheet& sheet, const Cooker& cooker, LookedAt from, double at_m, const Scale& scale,
                 const Frame& inside);

/// How far the load reaches from the rod's middle, m.
double reach_m(const DrawnLoad& drawn);

/// Puts labels beside one another, each as near as can be to where it belongs, between two ends.
///
/// \param wanted their middles, in order
/// \return their middles; nothing if they have no room
std::vector<double> spread_out(const std::vector<double>& wanted, const std::vector<double>& widths,
                               double gap, double from, double to);

}  // namespace evenspit::card
