// SPDX-License-Identifier: MIT
#include "analysis/uncertainty.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <utility>

#include <Eigen/Eigenvalues>

#include "units/standard_gravity.h"

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

using Mat2 = Eigen::Matrix2d;

/// What turns two deviates into an error of an item's centre across the rod: what no shape knows, each way,
/// and what the item's scan left open. It is the symmetric root of their covariance, which goes over into
/// the first alone as the second gets small: the same draws then stay comparable.
Mat2 centre_spread(const PlacedItem& item, double each_way_m) {
    if (!item.centre_covariance_m2) return each_way_m * Mat2::Identity();
    const Mat2 across = item.centre_covariance_m2->bottomRightCorner<2, 2>();
    const Eigen::SelfAdjointEigenSolver<Mat2> solver(across);
    const Vec2 sigmas = (solver.eigenvalues().array().max(0) + each_way_m * each_way_m).sqrt();
    return solver.eigenvectors() * sigmas.asDiagonal() * solver.eigenvectors().transpose();
}

/// The value that 95 of 100 do not exceed.
double p95(std::vector<double> values) {
    const auto at = values.begin() +
                    static_cast<std::ptrdiff_t>(std::ceil(0.95 * static_cast<double>(values.size()))) - 1;
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

}  // namespace

Uncertainty uncertainty(const Assembly& assembly, const std::vector<PlacedItem>& placed,
                        const Balance& balance, const InputSpread& spread, int samples) {
    const bool scanned = std::any_of(placed.begin(), placed.end(), [](const PlacedItem& item) {
        return item.centre_covariance_m2.has_value();
    });
    std::vector<Mat2> spreads;
    spreads.reserve(placed.size());
    for (const PlacedItem& item : placed) spreads.push_back(centre_spread(item, spread.centre_m));

    Deviates deviates;
    std::vector<double> torques, seen_torques;  // the second as if no scan had left anything open
    torques.reserve(static_cast<std::size_t>(samples));
    if (scanned) seen_torques.reserve(torques.capacity());
    int stalls = 0;
    for (int s = 0; s < samples; ++s) {
        Vec2 unbalance = balance.unbalance_kg_m, seen_unbalance = unbalance;
        for (std::size_t i = 0; i < placed.size(); ++i) {
            const PlacedItem& item = placed[i];
            const double length = item.to() - item.from();
            const double t = length > 0 ? (item.centre.x() - item.from()) / length : 0.5;
            const double mass = item.mass_kg * (1 + spread.mass * deviates.next());
            // One statement a draw: the order of calls within an expression is the compiler's to choose.
            const Vec2 at_from = deviates.pair();
            const Vec2 at_to = deviates.pair();
            const Vec2 unknown = deviates.pair();
            const Vec2 line = spread.rod_line_m * ((1 - t) * at_from + t * at_to);
            const Vec2 centre = item.centre.tail<2>();
            const auto moved_by = [&](const Vec2& shift) -> Vec2 {
                return mass * (centre + shift) - item.unbalance_kg_m();
            };
            unbalance += moved_by(line + spreads[i] * unknown);
            seen_unbalance += moved_by(line + spread.centre_m * unknown);
        }
        if (scanned) seen_torques.push_back(standard_gravity * seen_unbalance.norm());
        torques.push_back(standard_gravity * unbalance.norm());
        const double friction =
            balance.friction_torque_n_m * std::max(0.0, 1 + spread.friction * deviates.next());
        const double stall =
            assembly.motor.stall_torque_n_m * std::max(0.0, 1 + spread.stall_torque * deviates.next());
        if (torques.back() + friction >= stall) ++stalls;
    }
    Uncertainty result{p95(std::move(torques)), static_cast<double>(stalls) / samples, samples};
    if (scanned) result.gravity_torque_p95_seen_n_m = p95(std::move(seen_torques));
    return result;
}

}  // namespace evenspit
