// SPDX-License-Identifier: MIT
#include "scan/weighing.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "body/meat_density.h"
#include "body/scanned_skin.h"
#include "geometry/moments.h"
#include "scan/self_intersections.h"
#include "scan/skin_guess.h"
#include "scan/stoppable.h"
#include "scan/support.h"
#include "scan/trust.h"

namespace evenspit::scan {

namespace {

constexpr double bird_density_spread = 0.015;  // of one kind, share: common practice
constexpr double most_apart = 3;               // σ: beyond, one of the two is wrong
constexpr double least_told = 0.3;  // of what the two are apart, the ground's part: less is not worth a word
constexpr double most_stretch = 2;  // of the move, where the board stops a part of it
constexpr int most_solving = 12, most_halvings = 3;

// How far each vertex moves where the guess's places move so far.
std::vector<Vec3> moves_of(const Skin& skin, const std::vector<Vec3>& of_places, const NearGuess& near,
                           const StopControl& control) {
    const GuessedGround& ground = skin.underside.ground;
    const double width = near.reach();
    std::vector<Vec3> moves(skin.mesh.vertices.size(), Vec3::Zero());
    stoppable_for(control, moves.size(), [&](std::size_t first, std::size_t last) {
        for (std::size_t v = first; v < last; ++v) {
            const Vec3& place = skin.mesh.vertices[v];
            if (skin.support[v] >= unseen_support || !near.holds(place)) continue;
            double weights = 0;
            Vec3 sum = Vec3::Zero();
            for (std::size_t k = 0; k < ground.at.size(); ++k) {
                const double weight = std::exp(-(ground.at[k] - place).squaredNorm() / (width * width));
                weights += weight;
                sum += weight * of_places[k];
            }
            // What is half seen moves half.
            moves[v] = sum / weights * (1 - std::max(0.0, skin.support[v]) / unseen_support);
        }
    });
    return moves;
}

// The vertices moved, none of them under the board (or further, where some were).
std::vector<Vec3> moved(const std::vector<Vec3>& from, const std::vector<Vec3>& moves, double by,
                        const std::optional<Board>& board) {
    std::vector<Vec3> to = from;
    for (std::size_t v = 0; v < to.size(); ++v) {
        if (moves[v].isZero()) continue;
        to[v] += by * moves[v];
        if (!board) continue;
        Vec3 flat = board->on_flat(to[v]);
        const double lowest = std::min(0.0, board->on_flat(from[v]).z());
        if (flat.z() >= lowest) continue;
        flat.z() = lowest;
        to[v] = board->from_flat(flat);
    }
    return to;
}

// How far to move so that the volume changes by `wanted`, or as much of it as there is room for.
double stretch_for(TriangleMesh mesh, const std::vector<Vec3>& moves, double wanted,
                   const std::optional<Board>& board) {
    const std::vector<Vec3> from = mesh.vertices;
    const double before = volume_moments(mesh).amount;
    double low = 0, high = most_stretch;
    for (int round = 0; round < most_solving; ++round) {
        const double middle = (low + high) / 2;
        mesh.vertices = moved(from, moves, middle, board);
        const double change = volume_moments(mesh).amount - before;
        (std::abs(change) < std::abs(wanted) ? low : high) = middle;
    }
    return (low + high) / 2;
}

}  // namespace

WeighedVolume weighed_volume(double mass_kg, const LookedForBird& looked, double guess_error_m,
                             RoastKind kind, double scale_sigma) {
    const bool told = kind != RoastKind::automatic;
    const bool either = !told && (looked.doubtful || (!looked.bird && guess_error_m > wide_of_guess_m));
    const double odds = either ? 0.5 : looked.bird ? 1 : 0;  // that it is a bird
    body::DensitySpread flesh = body::usual_flesh_density(body::Meat::unknown);
    if (odds == 1) {
        const double density = body::natural_density(*looked.bird->species);
        flesh = {density, bird_density_spread * density};
    }
    const double matter = mass_kg / flesh.kg_m3;
    double hollow = body::hollow_of_birds * matter;
    for (const std::optional<BirdOverlay>& bird : {looked.bird, looked.maybe}) {
        if (bird) hollow = volume_moments(bird->cavity_piece(0, 1, 1)).amount;
    }
    const double by_hollow =
        hollow * std::sqrt(odds * (1 - odds) + odds * body::hollow_spread * body::hollow_spread);
    const double by_flesh = matter * flesh.sigma_kg_m3 / flesh.kg_m3;
    return {matter + odds * hollow, std::hypot(by_flesh, by_hollow, 3 * scale_sigma * matter)};
}

bool weigh(Skin& skin, double volume_sigma_m3, const WeighedVolume& weighed,
           const std::optional<Board>& board, const StopControl& control) {
    GuessedGround& ground = skin.underside.ground;
    if (ground.at.empty()) return false;
    const NearGuess near(ground.at);
    const double each = ground_of_place(skin.mesh, skin.support, near, ground.at.size());
    const Eigen::VectorXd with_volume = each * ground.covariance.rowwise().sum();
    const double of_ground = each * with_volume.sum();
    const double spread =
        std::max(of_ground, volume_sigma_m3 * volume_sigma_m3) + weighed.sigma_m3 * weighed.sigma_m3;
    if (!(of_ground > least_told * spread)) return false;
    const double volume = volume_moments(skin.mesh).amount, missing = weighed.volume_m3 - volume;
    if (std::abs(missing) > most_apart * std::sqrt(spread)) return false;

    const double wanted = missing * of_ground / spread;
    std::vector<Vec3> of_places;
    for (std::size_t k = 0; k < ground.at.size(); ++k) {
        const double by = unseen_departs_more * with_volume[Eigen::Index(k)] * missing / spread;
        of_places.emplace_back(by * ground.outward[k]);
    }
    const std::vector<Vec3> from = skin.mesh.vertices;
    const std::vector<Vec3> moves = moves_of(skin, of_places, near, control);
    double by = stretch_for(skin.mesh, moves, wanted, board);
    skin.mesh.vertices = moved(from, moves, by, board);
    for (int round = 0; self_intersections(skin.mesh, control).size() > skin.self_intersections; ++round) {
        by = round < most_halvings ? by / 2 : 0;
        skin.mesh.vertices = moved(from, moves, by, board);
        if (by == 0) break;
    }
    ground.at = moved(ground.at, of_places, by, board);
    ground.covariance -= with_volume * with_volume.transpose() / spread;
    // What found no room is left unknown.
    const double short_by = wanted - (volume_moments(skin.mesh).amount - volume);
    ground.covariance.array() += std::pow(short_by / (each * double(ground.at.size())), 2);
    return true;
}

}  // namespace evenspit::scan
