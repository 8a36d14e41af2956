// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "analysis/roll_belief.h"

namespace evenspit {

/// What a roll test is held against. Three numbers are uncertain: the unbalance [y, z], kg m, and the
/// standard normal deviate of the friction.
struct RollPrior {
    Vec3 mean = Vec3::Zero();
    Mat3 covariance = Mat3::Identity();                         ///< positive definite
    double friction_n_m = 0;                                    ///< on the supports, at deviate 0
    double friction_hung_n_m = 0;                               ///< the same with the hung weight on
    double friction_spread = 0;                                 ///< share
    Eigen::Matrix2d hung_covariance = Eigen::Matrix2d::Zero();  ///< of the hung weight's unbalance, (kg m)²
};

struct RollPosterior {
    std::vector<Vec3> draws;  ///< alike likely; none where no belief goes with the test
    Vec3 mean = Vec3::Zero();
    Mat3 covariance = Mat3::Zero();
    double contradiction = 1;  ///< as RollFound
};

/// Bayes' rule for one test, as RollBelief tells.
RollPosterior roll_posterior(const RollTest& test, const RollPrior& prior);

/// The torque of friction by its deviate, N m, not below 0.
inline double friction_at(double torque_n_m, double spread, double deviate) {
    return torque_n_m * (1 + spread * deviate > 0 ? 1 + spread * deviate : 0);
}

/// What a hung weight adds to the unbalance, [y, z], kg m.
Vec2 hung_unbalance(const HungWeight& hung);

}  // namespace evenspit
