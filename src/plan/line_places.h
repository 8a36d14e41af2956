// SPDX-License-Identifier: MIT
#pragma once

#include <array>

#include "load/assembly.h"

namespace evenspit::plan {

/// The two places, x in the item frame, at which hands measure where the rod passes a body: the openings of a
/// bird's cavity, else both ends of the body.
struct LinePlaces {
    std::array<double, 2> x_m{};  ///< from the vent or the near end of x on
    bool openings = false;        ///< of a bird
    Vec2 middle = Vec2::Zero();   ///< what offsets count from there, (y, z)
};

LinePlaces line_places(const Item& item);

/// Where a rod line crosses the plane of an x, (y, z) in the item frame.
Vec2 crossing(const body::PreparedBody& body, const RodLine& line, double x_m);

/// The rod line through two such places. \pre they differ in x
RodLine line_through(const body::PreparedBody& body, const std::array<double, 2>& x_m, const Vec2& first,
                     const Vec2& second);

}  // namespace evenspit::plan
