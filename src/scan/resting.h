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
    /// Share of the directions in which the board was seen far under the body: there is air.
    double air_beneath = 0;
};

/// \param body its places over the board made flat, z above it, m \param board places where the board was
/// seen, likewise; empty: nobody looked for it
Resting how_it_rests(const std::vector<Vec3>& body, const std::vector<Vec3>& board);

}  // namespace evenspit::scan
