// SPDX-License-Identifier: MIT
// A load on the test stand, moved by gravity and Coulomb friction step by step, and a cook who rolls it.
// Nothing in here knows the formulas of the estimate: where a load rests is where its motion ends.
#pragma once

#include <cmath>
#include <numbers>
#include <optional>
#include <random>

#include "geometry/types.h"
#include "units/standard_gravity.h"

namespace evenspit::test {

/// A rod that is free to turn. Its heavy side stands at clock + angle in the world.
struct FreeRod {
    Vec2 unbalance_kg_m = Vec2::Zero();
    double friction_n_m = 0;
    double inertia_kg_m2 = 0.02;

    /// Torque of gravity at a turn angle, N m: g (U_y cos θ − U_z sin θ) turns it down, the horizontal arm of
    /// what stands at world angle φ + θ being |U| cos(φ + θ).
    [[nodiscard]] double gravity_n_m(double angle_rad) const {
        return -standard_gravity *
               (unbalance_kg_m.x() * std::cos(angle_rad) - unbalance_kg_m.y() * std::sin(angle_rad));
    }

    /// The turn angle at which it comes to rest when it is let go.
    [[nodiscard]] double let_go(double angle_rad) const {
        double speed = 0;
        const double fastest = std::sqrt(standard_gravity * unbalance_kg_m.norm() / inertia_kg_m2);
        const double step_s = fastest > 0 ? 0.02 / fastest : 1;
        constexpr int most_steps = 2'000'000;
        for (int step = 0; step < most_steps; ++step) {
            const double gravity = gravity_n_m(angle_rad);
            if (speed == 0 && std::abs(gravity) <= friction_n_m) return angle_rad;
            const double way = speed != 0 ? speed : gravity;
            const double next = speed + step_s * (gravity - std::copysign(friction_n_m, way)) / inertia_kg_m2;
            // Friction stops a motion; it never turns it round.
            speed = speed != 0 && next * speed < 0 ? 0 : next;
            angle_rad += step_s * speed;
        }
        return angle_rad;
    }

    /// Clock that is at the bottom at a turn angle: what stands at world angle −90°.
    [[nodiscard]] static double bottom_rad(double angle_rad) { return -std::numbers::pi / 2 - angle_rad; }
};

/// Normal and uniform numbers.
class Chance01 {
  public:
    explicit Chance01(unsigned seed) : random_(seed) {}
    double normal() { return normal_(random_); }
    double uniform() { return uniform_(random_); }

  private:
    std::mt19937_64 random_;
    std::normal_distribution<double> normal_;
    std::uniform_real_distribution<double> uniform_;
};

/// The clock at the bottom once the rod has come to rest; nothing where it stays wherever it is put.
inline std::optional<double> rest_of(const FreeRod& rod, Chance01& chance) {
    const double from = 2 * std::numbers::pi * chance.uniform();
    constexpr int attitudes = 12;
    for (int i = 0; i < attitudes; ++i) {
        const double start = from + 2 * std::numbers::pi * i / attitudes;
        const double end = rod.let_go(start);
        if (std::abs(end - start) > std::numbers::pi / 90) return FreeRod::bottom_rad(end);
    }
    return std::nullopt;
}

/// Where a cook ends who hangs a weight opposite the heavy side and moves it away from whatever side still
/// comes down, in steps that halve when the side changes, until the load stays wherever it is put. The
/// unbalance of the weight as it then really hangs; nothing where patience ends.
inline std::optional<Vec2> balanced_by_hand(const FreeRod& load, double friction_hung_n_m, double down_rad,
                                            double first_kg_m, double step_kg_m, Chance01& chance) {
    Vec2 weight = -first_kg_m * Vec2(std::cos(down_rad), std::sin(down_rad)), last = Vec2::Zero();
    constexpr int patience = 60;
    for (int i = 0; i < patience; ++i) {
        const FreeRod rod{load.unbalance_kg_m + weight, friction_hung_n_m, load.inertia_kg_m2};
        const std::optional<double> down = rest_of(rod, chance);
        if (!down) return weight;
        const Vec2 side(std::cos(*down), std::sin(*down));
        if (side.dot(last) < 0) step_kg_m /= 2;
        weight -= step_kg_m * side;
        last = side;
    }
    return std::nullopt;
}

}  // namespace evenspit::test
