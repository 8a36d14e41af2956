// SPDX-License-Identifier: MIT
#pragma once

#include "load/assembly.h"

namespace evenspit {

/// Loose pieces in a drum that turns slowly.
struct Tumbling {
    double fill = 0;        ///< share of the drum's room that they take; more than 1: they do not go in
    double lever_m = 0;     ///< of their centre of mass, level, from the rod's axis
    double torque_n_m = 0;  ///< steady, against the turning
};

/// What the loose pieces of a basket ask of the motor.
///
/// In a drum that turns slowly the pieces lie as a segment of its section whose surface slopes by their angle
/// of repose φ, and go on sliding down it: their centre stays where it is, r = 4 R sin³(θ/2) / (3 (θ − sin
/// θ)) from the axis for a segment of angle θ, and the torque m g r sin φ is steady. It does not turn with
/// the rod, so that no counterweight takes it off. A flat basket holds its pieces fast: no torque.
///
/// Pieces weigh 600 kg/m³ in bulk, the air between them included (common practice: cut vegetables, wings and
/// chestnuts lie at 500 to 700), and slope by 45°, the steepest at which such pieces still slide (common
/// practice, the safe side).
Tumbling tumbling(const Fork& basket);

/// The torque of all baskets' loose pieces, N m.
double tumbling_torque_n_m(const Assembly& assembly);

}  // namespace evenspit
