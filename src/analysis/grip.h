// SPDX-License-Identifier: MIT
#pragma once

#include <stop_token>
#include <vector>

#include "analysis/placed.h"
#include "analysis/results.h"

namespace evenspit {

/// What each tine meets on its way, how well each fork holds, and who carries what.
///
/// Tines are taken as straight pins along the rod from the hub to the tip; stretches in flesh, bone and
/// cavity are exact intervals between the meshes. Cover is the least thickness of flesh beside the pin's
/// surface, at right angles to it, from the end of the entry stretch to the tip, and ahead of the tip; a tine
/// that comes out again has none. Torque capacity of a fork is Σ radius · bearing strength · diameter ·
/// length in flesh.
///
/// \throws Stopped once `stop` is asked to
Grip grip(const Assembly& assembly, const std::vector<ItemOnRod>& items, const std::stop_token& stop = {});

/// Puts the weights of what is held into a grip whose tines are known already: who carries what by statics
/// about the centre of mass, each at the middle of its tines' flesh; each item's own torque and what it uses
/// of its forks' capacity; and how hard its weight bears on the metal.
///
/// Weight use: weight over bearing strength × (Σ diameter × length in flesh of the tines + rod width × length
/// of rod in flesh). On a tine, weight (down) and torque (round the rod) add as vectors; the worst tine at
/// the worst angle counts.
void weigh(Grip& grip, const Assembly& assembly, const std::vector<ItemOnRod>& items);

/// How an item's weight is shared out over stations by statics about its centre of mass; shares add up to 1
/// and may be negative (pulled up). More than two stations: the smallest shares (in the sum of squares) that
/// balance.
///
/// \pre stations not empty
std::vector<double> weight_shares(const std::vector<double>& stations_m, double centre_m);

/// The middle of what a fork's tines have in flesh, station, m; its hub where they have nothing.
double flesh_middle_m(const ForkGrip& fork);

}  // namespace evenspit
