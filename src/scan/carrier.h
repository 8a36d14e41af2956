// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "scan/board.h"
#include "scan/points.h"
#include "scan/scan_settings.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// What carries a body over the board.
struct Carrier {
    RestsOn kind = RestsOn::board;  ///< rack, stand or tin
    double height_m = 0;         ///< over the board: a rack's or a stand's top, the rim of a tin or a plate
    double rests_at_m = 0;       ///< over the board: where the body lies on it
    double rests_sigma_m = 0;    ///< of that: bodies hide the edge of a stand and the floor of a plate
    Vec2 middle = Vec2::Zero();  ///< of a stand, board frame
    double radius_m = 0;         ///< of a stand
    bool sloped = false;         ///< a rim that leans outward: a plate, no tin
};

/// Looks for it among what stands on the board.
///
/// A rack and a rim stand out all round the body at one height, with no body over them: a rack in a thin
/// layer, with the board between its wires; a rim as a wall or a slope. For stands see find_stand().
///
/// \param body its points and those of what hangs with it, m \param all of the scan \param told what it rests
/// on; automatic: what is found \return nothing if the body lies on the board, or if what was told is not
/// seen
std::optional<Carrier> find_carrier(const PointSet& body, const PointSet& all, const Board& board,
                                    RestsOn told, const StopControl& control = {});

/// Which of the points are the body's: not those of a stand or a rim.
std::vector<std::size_t> not_of(const Carrier& carrier, const PointSet& points, const Board& board,
                                const StopControl& control = {});

}  // namespace evenspit::scan
