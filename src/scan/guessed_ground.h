// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include <Eigen/Core>

#include "geometry/types.h"

namespace evenspit::scan {

/// Ground that was closed by following a guess, and how far it may be off there.
struct GuessedGround {
    std::vector<Vec3> at;  ///< places spread evenly over it, m; empty: nothing was closed so
    /// Of how far the true skin lies outside the closed one, between the places, m².
    Eigen::MatrixXd covariance;
};

}  // namespace evenspit::scan
