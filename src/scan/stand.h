// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "geometry/types.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// What carries a body from below and is much narrower than it: a can, a block, a foot.
struct Stand {
    Vec2 middle = Vec2::Zero();
    double radius_m = 0;        ///< greatest
    double height_m = 0;        ///< of its top over the board
    double height_sigma_m = 0;  ///< of that: what lies on it hides its upper edge
};

/// Looks for a stand: something straight from the board up, under the body's middle, which stops well below
/// the body's top, and round which the board is seen under the body.
///
/// All places are over the board made flat, z above it, m.
///
/// \param body its points \param scene all points near it but for the board's, with what hangs with the body
/// and what does not \param noise σ of the board's points
std::optional<Stand> find_stand(const std::vector<Vec3>& body, const std::vector<Vec3>& scene,
                                const std::vector<Vec3>& board, double noise,
                                const StopControl& control = {});

}  // namespace evenspit::scan
