// SPDX-License-Identifier: MIT
#pragma once

#include "scan/board.h"
#include "scan/sheet.h"
#include "scan/skin_guess.h"

namespace evenspit::scan {

/// A guess that knows only that bodies are round, or like boxes with round edges: a
/// superellipsoid (A. Barr, IEEE Comput. Graph. Appl. 1(1):11–23, 1981) with an exponent for its sections and
/// one for its ends, that tapers along one axis, fitted to the discs that do not look up, with its lower pole
/// on the board.
///
/// Robust least squares of radial distances (A. Gross, T. Boult, Proc. ICCV, 1988), Levenberg–Marquardt. How
/// square the body is comes from its flanks. Knows nothing of a sheet with fewer than 30 such discs.
SkinGuess round_guess(const Sheet& sheet, const Board& board, const StopControl& control = {});

}  // namespace evenspit::scan
