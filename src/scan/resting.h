// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "geometry/types.h"

namespace evenspit::scan {

/// What was seen of how a body comes down to its board.
struct Resting {
    /// Over the board, m: in half of the directions nothing of the body was seen lower. What is lower is
    /// hidden, whether it is the body or something that it rests on.
    double hidden_below_m = 0;
    double hidden_share = 0;  ///< that, of the body's height
    /// Shares of the directions in which the board was seen under the body: there is air; and in which it
    /// was seen right under the body's middle.
    double air_beneath = 0, air_in_middle = 0;
    double height_to_width = 0;  ///< of what was seen; the width is the least that it has any way
    /// Vertical part of the normals low on its flanks, the mean of all ways: 0 where they come down straight,
    /// less where they curve under; -1 where nothing was seen of them.
    double low_flanks = -1;
};

/// \param body its places over the board made flat, z above it, m \param normals of those, outward, unit
/// \param board places where the board was seen under it, as those of the body
Resting how_it_rests(const std::vector<Vec3>& body, const std::vector<Vec3>& normals,
                     const std::vector<Vec3>& board);

}  // namespace evenspit::scan
