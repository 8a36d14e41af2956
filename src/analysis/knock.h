// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "analysis/placed.h"

namespace evenspit {

/// What a load is to the drive that turns it.
struct DriveTrain {
    double inertia_kg_m2 = 0;  ///< of all that turns, about the rod
    double stiffness_n_m_rad =
        0;  ///< between the load and the gears: the rod's twist, and the drive's if known
};

/// Inertia about the rod of items, forks, counterweights and the rod itself, and the rod's twist between the
/// drive seat and the items' common centre (G K / length; G = E / 2.6, Poisson's ratio 0.3 as EN 1993-1-4 has
/// it for stainless steel, from memory) in series with Motor::drive_stiffness_n_m_rad.
DriveTrain drive_train(const Assembly& assembly, const std::vector<ItemOnRod>& items);

/// Peak torque of the knock when a falling load has taken up the drive's play, N m.
///
/// Once gravity pulls harder than friction holds, the load leaves the gears, which go on at their mean speed:
/// I φ″ = gravity − friction, by Runge and Kutta's classical rule in steps of a fiftieth of √(I / gravity),
/// until it is the play ahead of them or they have caught up. Then the speed left between the two goes into
/// the twist: √(k I) Δω.
///
/// \param gravity_n_m, friction_n_m peak torque of gravity, and of friction
/// \param speed_rad_s mean speed of the drive, > 0
/// \return nothing where gravity never pulls harder than friction holds
std::optional<double> knock_torque(const DriveTrain& train, double gravity_n_m, double friction_n_m,
                                   double speed_rad_s, double play_rad);

}  // namespace evenspit
