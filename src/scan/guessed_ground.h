// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include <Eigen/Core>

#include "geometry/types.h"

namespace evenspit::scan {

/// How much further a body departs from a guess where it was not seen than it does where it was: it is
/// pressed flat there, and nothing held the guess. Likeliest over scans of known truth
/// (tests/scan/scan_table), even seeds of five classes, of volume (2) and centre (1.75) alike.
inline constexpr double unseen_departs_more = 1.9;

/// Ground that was closed by following a guess, and how far it may be off there.
struct GuessedGround {
    std::vector<Vec3> at;  ///< places spread evenly over it, m; empty: nothing was closed so
    /// Of how far the true skin lies outside the closed one, between the places, m².
    Eigen::MatrixXd covariance;
    std::vector<Vec3> outward;  ///< the skin's normals at the places, unit
};

}  // namespace evenspit::scan
