// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "analysis/results.h"

namespace evenspit {

/// How far the rod is down at a station, m: between the stations of RodResult::sag on a straight line, beyond
/// them as at the last.
double sag_at(const RodResult& rod, double at_m);

/// A stretch of the rod along which what the load sweeps reaches into a surface of the cooker.
struct Strike {
    std::size_t surface = 0;  ///< which, as in the load file
    Thing part{};             ///< of the load, that reaches in deepest
    double from_m = 0, to_m = 0;
    Vec3 at = Vec3::Zero();  ///< the surface's place that is reached into deepest; world, m
};

/// What strikes, for drawings: surfaces whose gap is negative, along the stretches where the outline, let
/// down by as much as the rod sags, reaches further than the surface is away. Sag brings the load nearer to
/// what lies below it, and takes it away from what lies above, by its share in that direction.
///
/// \param walls by surface: (station, distance from the axis), m, stations ascending; see axis_distance()
std::vector<Strike> strikes(const Clearance& clearance, const RodResult& rod,
                            const std::vector<std::vector<Vec2>>& walls);

/// How much nearer to that surface sag brings the load for each metre that it goes down, −1 … 1.
double sag_toward(const SurfaceGap& gap);

}  // namespace evenspit
