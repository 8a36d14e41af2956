// SPDX-License-Identifier: MIT
#include "plan/torque_bound.h"

namespace evenspit::plan {

TorqueBound::TorqueBound(const Item& item, const std::array<body::Matter, cook_ends>& masses,
                         const Seat& seat, const Unbalances& rest)
    : length_m_(item.body->bounds.sizes().x()),
      is_cooked_(rest[0] != rest[1] || masses[0].mass_kg != masses[1].mass_kg ||
                 masses[0].centre != masses[1].centre),
      ends_{} {
    if (!(length_m_ > 0)) return;  // no line runs through it: nothing is told
    const Eigen::Rotation2Dd back(-seat.turn_rad);
    for (std::size_t end = 0; end < cook_ends; ++end) {
        Vec2 own = back * rest[end];
        // Facing the drive the body is turned half round about its z.
        if (seat.facing == Facing::drive) own.x() = -own.x();
        const Vec3& centre = masses[end].centre;
        ends_[end] = {masses[end].mass_kg, (centre.x() - item.body->bounds.min().x()) / length_m_,
                      centre.tail<2>(), own};
    }
}

// The derivative of m (q − k (q·r) r), r = to − from, k = 1 / (n² + nL), n² = L² + r²; with ρ = r / L, k is
// at most 1 / 2L² and changes by at most 3ρ / 4L³.
double TorqueBound::most_change(const RodLine& line, double reach_m) const {
    if (!(length_m_ > 0)) return 0;
    const double slant = ((line.to - line.from).norm() + 2 * reach_m) / length_m_;
    double most_kg = 0;
    for (const End& end : ends_) {
        const double share = std::abs(end.share);
        const double off = (end.centre_m - line.from - end.share * (line.to - line.from)).norm() +
                           (share + std::abs(1 - end.share)) * reach_m;
        most_kg = std::max(most_kg, end.mass_kg * (share * (1 + 0.5 * slant * slant) +
                                                   off / length_m_ * (slant + 0.75 * slant * slant * slant)));
    }
    return standard_gravity * most_kg;
}

}  // namespace evenspit::plan
