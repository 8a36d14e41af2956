// SPDX-License-Identifier: MIT
#include "scan/trust.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <map>
#include <numbers>

#include "geometry/disjoint_sets.h"
#include "geometry/moments.h"
#include "scan/every_nth.h"
#include "scan/stoppable.h"
#include "scan/support.h"

namespace evenspit::scan {

namespace {

constexpr double distances_taken = 20000;
constexpr int chords_across = 200;
// How high a body bulges over the middle of a hole, to the hole's radius, as its volume over its area: 0.03
// for a face of a box, 0.05 for one of its ends, 0.16 for an ellipsoid cut open, 0.27 for a ball.
constexpr double bulge_of_holes = 0.1;
constexpr double least_hole = 6;  // in squares of the sheet's spacing: smaller ones are not counted

// Vertices that hang together over ground without support.
DisjointSets unseen_places(const TriangleMesh& mesh, const std::vector<double>& support) {
    DisjointSets places(mesh.vertices.size());
    for (const Triangle& t : mesh.triangles) {
        if (!is_unseen(t, support)) continue;
        places.join(t[1], t[0]);
        places.join(t[2], t[0]);
    }
    return places;
}

// How high a body bulges, on average, over an unseen place of that area (σ), where its rim alone tells of it.
double bulge_over(double area) {
    return bulge_of_holes * std::sqrt(area / std::numbers::pi);
}

// As ground_of_place(), of the area that belongs to the guess.
double share_of_place(double area, std::size_t places) {
    return unseen_departs_more * area / double(places);
}

Vec3 middle_of(const TriangleMesh& mesh, const Triangle& t) {
    return (mesh.corner(t, 0) + mesh.corner(t, 1) + mesh.corner(t, 2)) / 3;
}

}  // namespace

UnseenGround unseen_ground(const TriangleMesh& mesh, const std::vector<double>& support, double spacing) {
    DisjointSets places = unseen_places(mesh, support);
    std::vector<double> area(mesh.vertices.size(), 0.0);
    double all = 0, hidden = 0;
    for (const Triangle& t : mesh.triangles) {
        const double a = area_of(mesh, t);
        all += a;
        if (!is_unseen(t, support)) continue;
        hidden += a;
        area[std::size_t(places.root(t[0]))] += a;
    }
    UnseenGround ground;
    ground.area_m2 = all;
    ground.share = hidden / all;
    ground.holes = int(std::count_if(area.begin(), area.end(),
                                     [&](double a) { return a > least_hole * spacing * spacing; }));
    for (const double a : area) ground.behind_m3 += bulge_over(a) * a;
    return ground;
}

double volume_by_chords(const SolidQueries& solid, const StopControl& control) {
    const Box3 box = bounds(solid.mesh());
    const Vec3 size = box.sizes();
    std::vector<double> rows(chords_across, 0.0);
    stoppable_for(
        control, chords_across,
        [&](std::size_t first, std::size_t last) {
            for (std::size_t j = first; j < last; ++j) {
                for (int k = 0; k < chords_across; ++k) {
                    const double y = box.min().y() + size.y() * (double(j) + 0.5) / chords_across;
                    const double z = box.min().z() + size.z() * (k + 0.5) / chords_across;
                    for (const Interval& piece :
                         solid.inside({box.min().x() - 0.01, y, z}, {box.max().x() + 0.01, y, z}))
                        rows[j] += piece.length();
                }
            }
        },
        8);
    double sum = 0;
    for (const double row : rows) sum += row;
    return sum * size.y() * size.z() / (double(chords_across) * chords_across);
}

NearGuess::NearGuess(const std::vector<Vec3>& places) : reach_(1), points_(places) {
    if (places.empty()) return;
    Box3 box;
    for (const Vec3& p : places) box.extend(p);
    reach_ = 1.5 * box.diagonal().norm() / std::sqrt(double(places.size()));
}

double ground_of_place(const TriangleMesh& mesh, const std::vector<double>& support, const NearGuess& near,
                       std::size_t places) {
    double area = 0;
    for (const Triangle& t : mesh.triangles) {
        if (is_unseen(t, support) && near.holds(middle_of(mesh, t))) area += area_of(mesh, t);
    }
    return share_of_place(area, places);
}

Doubt doubt_of(const TriangleMesh& mesh, const std::vector<double>& support, const GroundError& off) {
    const Moments volume = volume_moments(mesh);
    struct Ground {
        double area = 0;
        Mat3 second = Mat3::Zero();
    };
    Ground seen;
    std::map<std::int32_t, Ground> closed;
    double guessed_area = 0;
    DisjointSets places = unseen_places(mesh, support);
    const NearGuess guessed(off.guessed.at);
    for (const Triangle& t : mesh.triangles) {
        const bool unseen = is_unseen(t, support);
        const double area = area_of(mesh, t);
        const Vec3 middle = middle_of(mesh, t);
        if (unseen && !off.guessed.at.empty() && guessed.holds(middle)) {
            guessed_area += area;
            continue;
        }
        Ground& ground = unseen ? closed[places.root(t[0])] : seen;
        const Vec3 arm = middle - volume.centre;
        ground.area += area;
        ground.second += area * arm * arm.transpose();
    }
    double seen_volume = off.seen_everywhere_m * seen.area, closed_volume = 0;
    Mat3 sum = off.seen_m * off.seen_m * seen.area * seen.second;
    for (const auto& [root, ground] : closed) {
        const double off_m = off.bounded ? off.closed_m : std::max(off.closed_m, bulge_over(ground.area));
        sum += off_m * off_m * ground.area * ground.second;
        closed_volume += off_m * ground.area;
    }
    double squares = seen_volume * seen_volume + closed_volume * closed_volume;
    if (!off.guessed.at.empty()) {
        const auto n = Eigen::Index(off.guessed.at.size());
        Eigen::MatrixXd arms(3, n);
        for (Eigen::Index k = 0; k < n; ++k) arms.col(k) = off.guessed.at[std::size_t(k)] - volume.centre;
        const double share = share_of_place(guessed_area, off.guessed.at.size());
        squares += share * share * off.guessed.covariance.sum();
        sum += share * share * arms * off.guessed.covariance * arms.transpose();
    }
    return {std::sqrt(squares), sum / (volume.amount * volume.amount)};
}

Distances distances_from(const SolidQueries& solid, const std::vector<Vec3>& points,
                         const StopControl& control) {
    const std::vector<Vec3> some = every_nth(points, distances_taken);
    std::vector<double> distances(some.size());
    stoppable_for(control, some.size(), [&](std::size_t first, std::size_t last) {
        for (std::size_t k = first; k < last; ++k) distances[k] = solid.closest(some[k]).distance;
    });
    Distances result;
    if (distances.empty()) return result;
    std::sort(distances.begin(), distances.end());
    for (const double d : distances) result.mean += d / double(distances.size());
    result.p95 = distances[std::size_t(0.95 * double(distances.size() - 1))];
    result.greatest = distances.back();
    return result;
}

}  // namespace evenspit::scan
