// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "scan/board.h"
#include "scan/points.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// The body's own points, and what became of the others.
struct Separated {
    PointSet body;             ///< scan frame
    std::size_t on_board = 0;  ///< points on the board or below it
    std::size_t clutter = 0;   ///< in pieces of their own, away from the body
    std::size_t strays = 0;    ///< lone points with too little round them
    int pieces = 0;            ///< of clutter
    double diagonal = 0;       ///< of the body's box
    SurfaceSurvey surface;     ///< of the body
    double cut = 0;            ///< height above the board below which nothing was kept; 0 without a board
};

/// The same after all lengths were multiplied by `factor` > 0.
Separated scaled(Separated separated, double factor);

/// How high over a board its own points reach: what is higher stands on it.
double cut_height(const Board& board);

/// Keeps the largest thing that stands on the board (or of all, without one). Where it stands aside, and
/// another of some size stands in the middle of all that was seen, it is that: who scans a body walks round
/// it.
///
/// Cut is everything lower than three and a half times the board's noise; then pieces apart from the body,
/// except small gaps (an end of a leg that was seen apart); then points with a fifth or less of the usual
/// number of neighbours. Empty body if nothing is left.
Separated separate_body(const PointSet& points, const std::optional<Board>& board,
                        const StopControl& control = {});

/// Drops what hangs with the body no more, once what tied it to the body was cut away.
void drop_loose_pieces(Separated& separated, const StopControl& control = {});

}  // namespace evenspit::scan
