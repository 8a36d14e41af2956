// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "scan/beside_thing.h"
#include "scan/board.h"
#include "scan/points.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// A thing of known size, as it was found. Lengths are in the scan's own unit, places on the board made flat.
struct FoundBeside {
    BesideThing thing;
    double size = 0;             ///< what is known of it
    double fit_sigma = 0;        ///< of it, share
    Vec2 middle = Vec2::Zero();  ///< of its foot
    Vec2 lean = Vec2::Zero();    ///< how far its middle moves, a unit of height
    Vec2 along = Vec2::UnitX();  ///< of a block, unit: one of its sides
    Vec2 half = Vec2::Zero();    ///< from the middle to its sides; of a can its radius, twice
    double top = 0;              ///< height
    double reach = 0;            ///< points nearer than this are its own, as noise has them
    std::size_t points = 0;      ///< of the scan that lie on it

    [[nodiscard]] double metres_per_unit() const { return thing.size_m / size; }
    /// Of that, share: of the fit and of the ruler.
    [[nodiscard]] double sigma() const { return std::hypot(fit_sigma, ruler_sigma_m / thing.size_m); }
    /// Whether a place belongs to it, or is no further from it than `reach`.
    [[nodiscard]] bool holds(const Vec3& flat, double reach) const;
};

/// What is told of a scan in which a thing of known size is looked for.
struct BesideQuestion {
    BesideThing thing;
    double cut = 0;                           ///< height below which all is board
    std::optional<double> metres_per_unit{};  ///< as its file or the cook tells; chooses among several
    std::string file{};                       ///< for complaints
};

/// Finds it among what stands on the board, in any unit: an upright cylinder, or a flat top with an upright
/// wall, of which nothing sticks out.
///
/// \throws InputError (key "beside") where none or more than one is found, or where it tells too little
FoundBeside find_beside(const PointSet& all, const Board& board, const BesideQuestion& question,
                        const StopControl& control = {});

/// The points that are not its own.
PointSet without_beside(const PointSet& all, const Board& board, const FoundBeside& found, double cut,
                        const StopControl& control = {});

}  // namespace evenspit::scan
