// SPDX-License-Identifier: MIT
#include "plan/unbalance.h"

#include <algorithm>
#include <stdexcept>

#include "analysis/balance.h"
#include "analysis/placed.h"

namespace evenspit::plan {

Unbalances operator+(const Unbalances& a, const Unbalances& b) {
    return {a[0] + b[0], a[1] + b[1]};
}

Unbalances rotated(const Unbalances& unbalances, double angle_rad) {
    const Eigen::Rotation2Dd turn(angle_rad);
    return {turn * unbalances[0], turn * unbalances[1]};
}

double worst_size(const Unbalances& unbalances) {
    return std::max(unbalances[0].norm(), unbalances[1].norm());
}

Unbalances item_unbalance(const Item& item, const std::array<body::Matter, cook_ends>& masses,
                          const Seat& seat) {
    const Pose pose = pose_in(item, seat);
    Unbalances result;
    for (std::size_t end = 0; end < cook_ends; ++end) {
        result[end] = masses[end].mass_kg * (pose * masses[end].centre).tail<2>();
    }
    return result;
}

Unbalances fork_unbalance(const std::vector<Fork>& forks) {
    Vec2 sum = Vec2::Zero();
    for (const Fork& fork : forks) sum += fork.mass_kg * fork_centre(fork).tail<2>();
    return {sum, sum};
}

Unbalances counterweight_unbalance(const std::vector<Counterweight>& weights) {
    Vec2 sum = Vec2::Zero();
    for (const Counterweight& weight : weights) {
        sum += weight.mass_kg * rod_point(0, weight.radius_m, weight.clock_rad).tail<2>();
    }
    return {sum, sum};
}

std::array<Vec2, 2> two_plane_correction(const std::vector<UnbalanceAt>& given, double plane_a_m,
                                         double plane_b_m) {
    if (plane_a_m == plane_b_m) throw std::invalid_argument("two_plane_correction: the planes coincide");
    std::array<Vec2, 2> correction{Vec2::Zero(), Vec2::Zero()};
    for (const UnbalanceAt& u : given) {
        const double share_b = (u.at_m - plane_a_m) / (plane_b_m - plane_a_m);
        correction[0] -= (1 - share_b) * u.unbalance_kg_m;
        correction[1] -= share_b * u.unbalance_kg_m;
    }
    return correction;
}

}  // namespace evenspit::plan
