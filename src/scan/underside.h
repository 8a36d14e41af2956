// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "scan/board.h"
#include "scan/guessed_ground.h"
#include "scan/resting.h"
#include "scan/sheet.h"
#include "scan/skin_guess.h"

namespace evenspit::scan {

/// How the side on which the body lay was closed.
struct Underside {
    Sheet sheet;      ///< discs, all invented, that close it; scan frame
    double area = 0;  ///< of them, m2
    /// Share of the body's edge above the board where the surface comes down steeply and was taken to go on
    /// straight to the board (the rest curves under, and was carried on smoothly).
    double wall_share = 0;
    bool upright = false;    ///< so much of it that the body is taken to stand on a flat side
    std::string guess;       ///< name of the guess that was followed; empty: none, a thin plate
    GuessedGround ground;    ///< where it was followed, scan frame
    Resting resting;         ///< what was seen of how the body comes down
    double guess_error = 0;  ///< middle distance of that guess from the seen flanks and underside, m
};

/// Closes the underside of a body on a board, before it is wrapped.
///
/// The guess that comes nearest to what was seen is followed (follow_guess()). If none comes near, the body
/// is taken as a height over the board: known where its underside could be seen past the board, carried on
/// from there by a thin plate that bends least. Either way it lies on or above the board. Where the surface
/// comes down to the cut without curving under, it is taken to go straight on to the board, and the underside
/// to lie on it.
///
/// \param board_points what was cut away as board: under an opening that shows the board there is nothing to
/// close \param cut height above the board below which points were cut away, m
Underside close_underside(const Sheet& sheet, const Board& board, const PointSet& board_points, double cut,
                          const ScanScale& scale, const std::vector<SkinGuess>& guesses,
                          const StopControl& control = {});

}  // namespace evenspit::scan
