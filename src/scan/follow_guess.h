// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <vector>

#include "scan/guessed_ground.h"
#include "scan/sheet.h"
#include "scan/skin_guess.h"

namespace evenspit::scan {

/// An underside made of a guess.
struct FollowedGuess {
    Sheet sheet;  ///< discs where nothing was seen, none looking up, all invented
    GuessedGround ground;
};

/// The underside of a body on a board after a guess at the whole body: the guess's skin moved along its
/// normals onto what was seen, and on from there as departures from a guess usually go on (Departure), until
/// it lies on the board.
///
/// Where it lies is not known, but (if it does: SkinGuess::on_board) that it does: the least height of the
/// underside is 0, or the share of it that weight presses flat (SkinGuess::pressed_share) comes to 0. Of all
/// undersides that go with what was seen the mean of those is taken, as an ensemble's linear update (G.
/// Evensen, Ocean Dynamics 53:343–367, 2003).
///
/// All places are in the frame of the board made flat, as in SkinGuess.
///
/// \param error_m how far the guess misses what was seen \param seen discs of the body \param feet places on
/// the board where its walls are taken to end \param spacing of the discs, m \param covered whether the body
/// covers a place, seen from above \returns empty where less than 50 discs speak of the lower part of the
/// body
FollowedGuess follow_guess(const SkinGuess& guess, double error_m, const Sheet& seen,
                           const std::vector<Vec3>& feet, double spacing,
                           const std::function<bool(const Vec3& place)>& covered,
                           const StopControl& control = {});

}  // namespace evenspit::scan
