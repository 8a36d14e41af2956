// SPDX-License-Identifier: MIT
#include "analysis/tumbling.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "units/standard_gravity.h"

namespace evenspit {
namespace {

constexpr double bulk_kg_m3 = 600;
constexpr double repose_rad = std::numbers::pi / 4;

/// The angle of a circle's segment that is such a share of it: θ − sin θ = 2π · share. Newton, kept inside by
/// halving.
double segment_angle(double share) {
    double low = 0, high = 2 * std::numbers::pi;
    double angle = 2 * std::numbers::pi * share;
    for (int round = 0; round < 80; ++round) {
        const double miss = angle - std::sin(angle) - 2 * std::numbers::pi * share;
        (miss > 0 ? high : low) = angle;
        const double slope = 1 - std::cos(angle);
        const double next = slope > 0 ? angle - miss / slope : low;
        angle = next > low && next < high ? next : (low + high) / 2;
    }
    return angle;
}

}  // namespace

Tumbling tumbling(const Fork& basket) {
    const Cage& cage = basket.cage;
    Tumbling out;
    if (!(cage.contents_kg > 0)) return out;
    const double section_m2 =
        cage.round ? std::numbers::pi / 4 * cage.width_m * cage.width_m : cage.width_m * cage.height_m;
    out.fill = cage.contents_kg / bulk_kg_m3 / (section_m2 * cage.length_m);
    if (!cage.round || out.fill >= 1) return out;
    const double angle = segment_angle(out.fill), half = std::sin(angle / 2);
    // Of a segment: 4 R sin³(θ/2) / (3 (θ − sin θ)).
    out.lever_m =
        4 * (cage.width_m / 2) * half * half * half / (3 * (angle - std::sin(angle))) * std::sin(repose_rad);
    out.torque_n_m = cage.contents_kg * standard_gravity * out.lever_m;
    return out;
}

double tumbling_torque_n_m(const Assembly& assembly) {
    double sum = 0;
    for (const Fork& fork : assembly.forks) {
        if (fork.kind == ForkKind::basket) sum += tumbling(fork).torque_n_m;
    }
    return sum;
}

}  // namespace evenspit
