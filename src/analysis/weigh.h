// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "analysis/placed.h"
#include "analysis/results.h"

namespace evenspit {

/// Puts the weights of what is held into a grip whose tines are known already: who carries what by statics
/// about the centre of mass (carried_shares()); each item's own torque and what it uses of its forks'
/// capacity; and how hard its weight bears on the metal.
///
/// Weight use: weight over bearing strength × (Σ diameter × length of the tines that holds + rod width ×
/// length of rod in flesh). On a tine, weight (down) and torque (round the rod) add as vectors; the worst
/// tine at the worst angle counts.
void weigh(Grip& grip, const Assembly& assembly, const std::vector<ItemOnRod>& items);

/// How an item's weight is shared out over stations by statics about its centre of mass; shares add up to 1
/// and may be negative (pulled up). More than two stations: the smallest shares (in the sum of squares) that
/// balance. Stations that lie nearer together than a tine bites cannot balance anything by the lever: even
/// shares.
///
/// \pre stations not empty
std::vector<double> weight_shares(const std::vector<double>& stations_m, double centre_m);

/// What a fork carries of an item's weight W: share · W at its hub, and by its clamp the couple lever_m · W.
struct CarriedShare {
    int fork = 0;
    double share = 0;
    double lever_m = 0;     ///< toward the point is positive
    double bearing_m2 = 0;  ///< Σ diameter × length in flesh of its tines
};

/// An item that hangs on its forks' tines: weight_shares() over the middles of their flesh, and what these
/// leave of the moment about the centre of mass as couples in the clamps, in proportion to what the tines
/// press on. A lone fork carries all. Forks that find no flesh carry nothing, unless none does.
std::vector<CarriedShare> carried_shares(const ItemGrip& held, const Grip& grip,
                                         const std::vector<Fork>& forks, double centre_m);

/// The greatest size over a turn of two pushes on a tine that add as vectors: one that stays upright and one
/// round the rod, which goes as the torque of a heavy side does.
///
/// With the tine at clock φ and the heavy side at h the square is a² + b² cos²(θ + h) + 2 a b cos(θ + h)
/// cos(θ
/// + φ); by cos x cos y = (cos(x + y) + cos(x − y)) / 2 its greatest value is a² + b²/2 + a b cos(h − φ) +
/// |b| √(b²/4 + a² + a b cos(h − φ)).
///
/// \param upright a, down is positive
/// \param round b, at its peak
double pushes_together(double upright, double round, double tine_rad, double heavy_side_rad);

/// The middle of what a fork's tines have in flesh, station, m; its hub where they have nothing.
double flesh_middle_m(const ForkGrip& fork);

}  // namespace evenspit
