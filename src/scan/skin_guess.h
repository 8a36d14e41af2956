// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "geometry/types.h"
#include "scan/resting.h"

namespace evenspit::scan {

/// What misses its round guess by more is no round body at all, as a bird that lies flat and spread.
inline constexpr double wide_of_guess_m = 0.007;

/// A guess at a whole body, made from what was seen of it.
///
/// Places are in the frame of the board made flat: x, y of the board's frame, z the height above the board,
/// m.
struct SkinGuess {
    std::string name;
    /// Positive outside, negative inside, 0 on the guessed skin, and near it about the distance, m. Infinite
    /// where nothing is known.
    std::function<double(const Vec3& place)> field;
    /// How much `field` grows when each number of the guess (pose, size, proportions) grows by one standard
    /// deviation of what is usual. Empty: the guess is taken as it is.
    std::function<std::vector<double>(const Vec3& place)> changes;
    /// How far the usual value of each number lies from the guessed one, in standard deviations; as many as
    /// `changes` gives.
    std::vector<double> usual;
    bool on_board = true;      ///< the body is known to lie on the board
    double board_sigma_m = 0;  ///< how far off the board's height may be
    /// Of its underside, what its weight presses flat on the board, by how far the guess misses what was
    /// seen, m. Empty: nothing.
    std::function<double(double error_m)> pressed_share{};
    /// Of its height, how high it stands hollow over the board in its middle, by how it was seen to rest.
    /// Empty: it does not.
    std::function<double(const Resting&, double error_m)> arch_share{};
};

}  // namespace evenspit::scan
