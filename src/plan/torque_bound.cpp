// SPDX-License-Identifier: MIT
#include "plan/torque_bound.h"

#include <cmath>

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

TorqueSieve::TorqueSieve(const TorqueBound& bound, double most_n_m)
    : bound_(bound),
      ends_(bound.length_m_ > 0 ? (bound.is_cooked_ ? cook_ends : 1) : 0),
      per_length2_(ends_ > 0 ? 0.5 / (bound.length_m_ * bound.length_m_) : 0),
      most_kg_m_((std::max(0.0, most_n_m) + TorqueBound::allowance_n_m) /
                 (TorqueBound::most_share * standard_gravity)) {
    for (std::size_t end = 0; end < ends_; ++end) rest_kg_m_[end] = bound.ends_[end].rest_kg_m.norm();
}

TorqueSieve::Disc TorqueSieve::disc(std::size_t end, const Rows& lines, double kappa) const {
    const TorqueBound::End& e = bound_.ends_[end];
    // A centre in the plane of the near ends moves with none of the far ones: a step as small as this tells
    // as much.
    constexpr double least_step_kg_m = 1e-12;
    const Vec2 off = unbalance(end, lines.first);
    const double step = e.mass_kg * e.share * lines.step_m;
    const double along = std::abs(step) > least_step_kg_m ? step : std::copysign(least_step_kg_m, step);
    const double limit = (most_kg_m_ + kappa * rest_kg_m_[end]) / (1 - kappa) * (1 + rounding);
    return {.squared_limit = limit * limit,
            .across = off[1 - lines.axis],
            .step = step,
            .middle = off[lines.axis] / along,
            .per_step = 1 / std::abs(along)};
}

}  // namespace evenspit::plan
