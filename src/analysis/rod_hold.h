// SPDX-License-Identifier: MIT
#pragma once

#include "rig/rod.h"

namespace evenspit {

/// What a rod's shape holds against turning in flesh, per length of rod in it and per pressure that the flesh
/// bears, m²: torque = this · bearing strength · length.
///
/// A bar of n flat sides, each a wide, that turns presses with the half of each side that goes ahead. Flesh
/// that bears q pushes back with q on it, at lever s from the middle of the side: q ∫₀^{a/2} s ds = q a² / 8
/// a side. Only half of the sides are counted: n q a² / 16, q w² / 4 of a square and q w² / 8 of a hexagon w
/// across its flats. More would shear a round plug out of the flesh: out to the corners (radius r) that takes
/// 2 π r² k, with k from what a plastic body bears on a long pin, q = (4 √2 + 2 π) k (Randolph and Houlsby,
/// Géotechnique 34(4), 1984, rough pin): 0.26 q w² of a square, 0.18 q w² of a hexagon. Friction is left out,
/// so that a round rod holds nothing.
///
/// \param width_m side of a square, across flats of a hexagon, > 0
double rod_hold_m2(Section section, double width_m);

}  // namespace evenspit
