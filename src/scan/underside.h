// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "scan/board.h"
#include "scan/sheet.h"

namespace evenspit {

/// How the side on which the body lay was closed.
struct Underside {
    Sheet sheet;      ///< discs, all invented, that close it; scan frame
    double area = 0;  ///< of them, m2
    /// Share of the body's edge above the board where the surface comes down steeply and was taken to go on
    /// straight to the board (the rest curves under, and was carried on smoothly).
    double wall_share = 0;
    std::string guess;       ///< name of the guess that was followed; empty: none, a thin plate
    double guess_error = 0;  ///< middle distance of that guess from the seen flanks and underside, m
};

/// A guess at the underside of a body on a board.
struct UndersideGuess {
    std::string name;
    /// The least height above the board, m, of the body over (x, y) of the board's frame; NaN where it knows
    /// nothing.
    std::function<double(double x, double y)> height;
    /// Distance of a place (x, y of the board's frame, height above the board) from the guessed body's
    /// surface, about, m.
    std::function<double(const Vec3& place)> distance;
};

/// Closes the underside of a body on a board, before it is wrapped.
///
/// Seen from below, the body is a height over the board: known where its underside could be seen past the
/// board, unknown elsewhere. The guess that comes nearest to what was seen is followed, with a correction
/// that starts from what was seen and fades with the distance from it; if none comes near, a thin plate
/// carries the seen part on with least bending. Either way it lies on or above the board. Where the surface
/// comes down to the cut without curving under, it is taken to go straight on to the board, and the underside
/// to lie on it.
///
/// \param board_points what was cut away as board: under an opening that shows the board there is nothing to
/// close \param cut height above the board below which points were cut away, m
Underside close_underside(const Sheet& sheet, const Board& board, const PointSet& board_points, double cut,
                          const ScanScale& scale, const std::vector<UndersideGuess>& guesses);

}  // namespace evenspit
