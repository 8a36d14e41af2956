// SPDX-License-Identifier: MIT
#pragma once

#include "analysis/balance.h"
#include "analysis/placed.h"
#include "analysis/results.h"

namespace evenspit {

/// How far what is done at the fire may lie from what the load file says; standard deviations. Common
/// practice, no source.
struct InputSpread {
    double rod_line_m = 0.004;  ///< where the rod enters and leaves a body, each way
    double mass = 0.01;         ///< of an item's weight, as a share
    double centre_m = 0.002;    ///< of the centre of mass, what no shape knows (bones, fat), each way
    double friction = 0.3;      ///< of the friction torque, as a share
    double stall_torque = 0.1;  ///< of the motor's stall torque, as a share
};

/// The spread of the peak gravity torque and the chance of a stall, by sampling the balance with the same
/// seed every time.
///
/// The rod line moves an item across the rod by the two ends' errors, each weighed by where the centre of
/// mass lies between them; unbalance is linear in that, so a sample costs a few additions. A centre that is
/// known from a scan is moved by what the scan left open too (Body::centre_covariance_m2), in its direction;
/// what the spread were without that comes of the same draws.
///
/// \param samples number of samples, > 0
Uncertainty uncertainty(const Assembly& assembly, const std::vector<PlacedItem>& placed,
                        const Balance& balance, const InputSpread& spread = {}, int samples = 4000);

}  // namespace evenspit
