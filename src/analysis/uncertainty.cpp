// SPDX-License-Identifier: MIT
#include "analysis/uncertainty.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace evenspit {
namespace {

/// Normal deviates by Box and Muller from a generator whose sequence the standard fixes, so that every
/// machine draws the same.
class Deviates {
  public:
    double next() {
        const double u = (static_cast<double>(engine_()) + 1) / 4294967297.0;
        const double v = static_cast<double>(engine_()) / 4294967296.0;
        return std::sqrt(-2 * std::log(u)) * std::cos(2 * std::numbers::pi * v);
    }
    Vec2 pair() {
        const double y = next();
        return {y, next()};
    }

  private:
    std::mt19937 engine_{20240229};
};

}  // namespace

Uncertainty uncertainty(const Assembly& assembly, const std::vector<PlacedItem>& placed,
                        const Balance& balance, const InputSpread& spread, int samples) {
    Deviates deviates;
    std::vector<double> torques;
    torques.reserve(static_cast<std::size_t>(samples));
    int stalls = 0;
    for (int s = 0; s < samples; ++s) {
        Vec2 unbalance = balance.unbalance_kg_m;
        for (const PlacedItem& item : placed) {
            const double length = item.to() - item.from();
            const double t = length > 0 ? (item.centre.x() - item.from()) / length : 0.5;
            const double mass = item.mass_kg * (1 + spread.mass * deviates.next());
            // One statement a draw: the order of calls within an expression is the compiler's to choose.
            const Vec2 at_from = deviates.pair();
            const Vec2 at_to = deviates.pair();
            const Vec2 unseen = deviates.pair();
            const Vec2 shift = spread.rod_line_m * ((1 - t) * at_from + t * at_to) + spread.centre_m * unseen;
            const Vec2 centre = item.centre.tail<2>();
            unbalance += mass * (centre + shift) - item.unbalance_kg_m();
        }
        torques.push_back(standard_gravity * unbalance.norm());
        const double friction =
            balance.friction_torque_n_m * std::max(0.0, 1 + spread.friction * deviates.next());
        const double stall =
            assembly.motor.stall_torque_n_m * std::max(0.0, 1 + spread.stall_torque * deviates.next());
        if (torques.back() + friction >= stall) ++stalls;
    }
    const auto p95 = torques.begin() + static_cast<std::ptrdiff_t>(std::ceil(0.95 * samples)) - 1;
    std::nth_element(torques.begin(), p95, torques.end());
    return {*p95, static_cast<double>(stalls) / samples, samples};
}

}  // namespace evenspit
