// SPDX-License-Identifier: MIT
#include "scan/board.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>
#include <random>
#include <utility>

#include <Eigen/Cholesky>

#include "scan/clusters.h"
#include "scan/neighbours.h"
#include "scan/stoppable.h"

namespace evenspit::scan {

namespace {

constexpr int proposals = 600;
constexpr std::size_t proposals_a_look = 50;  // some milliseconds
constexpr int planes_tried = 5;
constexpr double cells_across = 150;  // thinning: cubes along the diagonal of the scene
constexpr double least_share =
    0.03;  // of the thinned points; a board that fills less of the scan hides nothing
constexpr std::size_t least_thing = 30;    // points
constexpr double normal_agreement = 0.85;  // cosine, about 32°
constexpr double other_side_share = 0.04;  // of the points over the board, how many may be below it
constexpr double stray_share = 0.2;        // of the usual number of neighbours
constexpr double parallel = 0.98;          // cosine, about 11°: a board and the table under it
constexpr double slab_share = 0.1;         // a board's thickness, to its lesser extent, at most
constexpr double slab_to_thing = 0.4;      // and to the height of what lies on it
constexpr std::size_t sectors = 24;        // round the foot, each either shows the board or not
constexpr double sectors_seen = 0.3;       // share of them that must

struct Plane {
    Vec3 normal;
    double offset;  // normal · x = offset
    [[nodiscard]] double distance(const Vec3& p) const { return normal.dot(p) - offset; }
};

// Thinned points with what their surroundings tell.
struct Scene {
    PointSet points;
    double cell = 0;
    std::vector<Vec3> normals;
    std::vector<bool> stray;  // with few others near: a haze of them would tie all things together

    Scene(const PointSet& all, double cube, const StopControl& control)
        : points(thinned(all, cube, control)), cell(cube) {
        const double radius = 2.5 * cell;
        const NeighbourGrid grid(points.positions, radius, control);
        normals.resize(points.size());
        std::vector<std::size_t> crowd(points.size(), 0);
        stoppable_for(control, points.size(), [&](std::size_t first, std::size_t last) {
            for (std::size_t i = first; i < last; ++i) {
                PlaneSum sum(points.positions[i]);
                grid.for_each_within(points.positions[i], radius, [&](std::size_t j, double) {
                    sum.add(points.positions[j], points.count(j));
                    ++crowd[i];
                });
                normals[i] = sum.fit().normal;
            }
        });
        control.check();
        std::vector<std::size_t> sorted = crowd;
        const auto middle = sorted.begin() + std::ptrdiff_t(sorted.size() / 2);
        std::nth_element(sorted.begin(), middle, sorted.end());
        stray.resize(points.size());
        for (std::size_t i = 0; i < crowd.size(); ++i)
            stray[i] = double(crowd[i]) < stray_share * double(*middle);
    }
};

Plane fit_plane(const PointSet& points, const std::vector<std::size_t>& indices) {
    PlaneSum sum(points.positions[indices.front()]);
    for (const std::size_t i : indices) sum.add(points.positions[i], 1);
    const PlaneFit fit = sum.fit();
    return {fit.normal, fit.normal.dot(fit.middle)};
}

Pose frame_of(const Plane& plane, const Vec3& near) {
    Pose pose = Pose::Identity();
    const Vec3 x = plane.normal.unitOrthogonal();
    pose.linear().row(0) = x.transpose();
    pose.linear().row(1) = plane.normal.cross(x).transpose();
    pose.linear().row(2) = plane.normal.transpose();
    const Vec3 foot = near - plane.distance(near) * plane.normal;
    pose.translation() = -(pose.linear() * foot);
    return pose;
}

// What 98 of 100 do not exceed; 0 for none.
double most_of(std::vector<double>& values) {
    if (values.empty()) return 0;
    const auto high = values.begin() + std::ptrdiff_t(values.size() - 1 - values.size() / 50);
    std::nth_element(values.begin(), high, values.end());
    return *high;
}

// A thing and the frame of the board that it stands on.
struct Standing {
    Pose to_board;
    std::vector<Vec3> thing;  // board frame
};

// What lies over the plane, on its fuller side: the largest piece. Nothing if the plane is none that a thing
// can lie on.
std::optional<Standing> thing_on(const Plane& plane, const Scene& scene,
                                 const std::vector<std::size_t>& on_plane, double tolerance,
                                 const StopControl& control) {
    const PointSet& points = scene.points;
    Standing standing{frame_of(plane, points.positions[on_plane.front()]), {}};
    Box3 extent;  // a body hides the board under it, so that what stands over the board cannot be told point
                  // by point
    for (const std::size_t i : on_plane) extent.extend(standing.to_board * points.positions[i]);
    const auto within = [&](const Vec3& q, double margin) {
        return q.x() >= extent.min().x() - margin && q.x() <= extent.max().x() + margin &&
               q.y() >= extent.min().y() - margin && q.y() <= extent.max().y() + margin;
    };
    const double size = cells_across * scene.cell;
    std::vector<Vec3> below, above;
    // Points of the scan, well off the plane: the tail of a board's noise fills many cubes with few points
    // each.
    double below_count = 0, above_count = 0;
    std::vector<double> depths, heights;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3 q = standing.to_board * points.positions[i];
        if (std::abs(q.z()) <= tolerance) continue;
        if (scene.stray[i] || !within(q, size)) continue;
        (q.z() > 0 ? above : below).push_back(q);
        if (!within(q, 0)) continue;
        (q.z() > 0 ? heights : depths).push_back(std::abs(q.z()));
        if (std::abs(q.z()) > 2 * tolerance) (q.z() > 0 ? above_count : below_count) += points.count(i);
    }
    control.check();
    // A board that was scanned from below as well, or closed by the program that made the mesh, has a far
    // side.
    const double above_reach = most_of(heights), below_reach = most_of(depths);
    const double slab = slab_share * extent.sizes().head<2>().minCoeff();
    if (below_reach < std::min(slab, slab_to_thing * above_reach)) below_count = 0;
    if (above_reach < std::min(slab, slab_to_thing * below_reach)) above_count = 0;
    if (below_count > above_count) {
        const Eigen::AngleAxisd over(std::numbers::pi, Vec3::UnitX());
        standing.to_board = over * standing.to_board;
        std::swap(above, below);
        std::swap(above_count, below_count);
        for (Vec3& q : above) q = over * q;
        extent =
            Box3(Vec3(extent.min().x(), -extent.max().y(), 0), Vec3(extent.max().x(), -extent.min().y(), 0));
    }
    if (above.size() < least_thing) return std::nullopt;
    if (below_count > other_side_share * above_count) return std::nullopt;

    // The piece with most over the board; what of it reaches out beyond counts, or else the top of a body
    // that is open below would pass for a board that the body hangs under.
    const Clusters clusters = cluster(above, 4 * scene.cell, control);
    control.check();
    std::vector<std::size_t> over_board(clusters.extents.size(), 0);
    for (std::size_t i = 0; i < above.size(); ++i)
        over_board[std::size_t(clusters.of[i])] += within(above[i], 0);
    const auto piece = std::max_element(over_board.begin(), over_board.end()) - over_board.begin();
    if (over_board[std::size_t(piece)] < least_thing) return std::nullopt;
    heights.clear();
    double top = 0;
    for (std::size_t i = 0; i < above.size(); ++i) {
        if (clusters.of[i] != piece) continue;
        standing.thing.push_back(above[i]);
        heights.push_back(above[i].z());
        top = std::max(top, above[i].z());
    }
    const auto low = heights.begin() + std::ptrdiff_t(heights.size() / 50);
    std::nth_element(heights.begin(), low, heights.end());
    if (*low > 0.25 * top + 4 * tolerance) return std::nullopt;  // hangs above: a floor, a wall behind

    control.check();
    // Is the board seen round the foot? In each sector, just beyond where the thing ends.
    Vec2 middle = Vec2::Zero();
    for (const Vec3& p : standing.thing) middle += p.head<2>() / double(standing.thing.size());
    const auto sector = [&](const Vec3& p) {
        const double turns =
            std::atan2(p.y() - middle.y(), p.x() - middle.x()) / (2 * std::numbers::pi) + 0.5;
        return std::min(sectors - 1, std::size_t(turns * sectors));
    };
    std::array<double, sectors> reach{};
    for (const Vec3& p : standing.thing)
        reach[sector(p)] = std::max(reach[sector(p)], (p.head<2>() - middle).norm());
    const double mean_reach = std::accumulate(reach.begin(), reach.end(), 0.0) / sectors;
    std::array<int, sectors> seen{};
    for (const std::size_t i : on_plane) {
        const Vec3 q = standing.to_board * points.positions[i];
        const double r = (q.head<2>() - middle).norm();
        if (r > reach[sector(q)] && r < reach[sector(q)] + mean_reach) ++seen[sector(q)];
    }
    const auto shown = std::count_if(seen.begin(), seen.end(), [](int n) { return n >= 3; });
    if (double(shown) < sectors_seen * sectors) return std::nullopt;
    return standing;
}

// How far a board lies over another, as on a table: over the same ground, under the same thing. Nothing if it
// does not.
std::optional<double> step_up(const Standing& upper, const Standing& lower) {
    const Pose between = lower.to_board * upper.to_board.inverse();
    if (between.linear()(2, 2) < parallel) return std::nullopt;
    const auto height = [](const std::vector<Vec3>& thing) {
        double most = 0;
        for (const Vec3& p : thing) most = std::max(most, p.z());
        return most;
    };
    const double step = between.translation().z();
    if (step <= 0 || height(upper.thing) <= 0.5 * height(lower.thing)) return std::nullopt;
    return step;
}

// Robust quadric through the points near the plane, weighted toward those near the thing.
void fit_warp(Board& board, const PointSet& points, const Vec3& middle, double reach, double tolerance,
              const StopControl& control) {
    using Row = Eigen::Matrix<double, 6, 1>;
    EveryNthCheck now_and_then(control, points_a_look);
    std::vector<Vec3> near;
    for (const Vec3& p : points.positions) {
        now_and_then.step();
        const Vec3 q = board.to_board * p;
        if (std::abs(q.z()) < 2 * tolerance && (q - middle).head<2>().norm() < 2.5 * reach) near.push_back(q);
    }
    // A plane first, then the warp, each with weights that fade at a width of the residuals' own scatter
    // (Tukey's biweight).
    double width = 2 * tolerance;
    for (int step = 0; step < 8 && near.size() > 60; ++step) {
        const int terms = step < 3 ? 3 : 6;
        Eigen::MatrixXd normal_matrix = Eigen::MatrixXd::Zero(terms, terms);
        Eigen::VectorXd right = Eigen::VectorXd::Zero(terms);
        std::vector<double> off;
        for (const Vec3& q : near) {
            now_and_then.step();
            const double residual = board.above(q);
            if (std::abs(residual) < width) off.push_back(std::abs(residual));
            const double t = residual / width;
            if (std::abs(t) >= 1) continue;
            const double d = (q - middle).head<2>().norm() / (2.5 * reach);
            const double weight = (1 - t * t) * (1 - t * t) * (1 - d * d);
            const double x = q.x() / reach, y = q.y() / reach;
            const Eigen::VectorXd row = Row(1, x, y, x * x, x * y, y * y).head(terms);
            normal_matrix += weight * row * row.transpose();
            right += weight * q.z() * row;
        }
        if (off.size() < 60) return;
        Row scaled = Row::Zero();
        scaled.head(terms) = normal_matrix.ldlt().solve(right);
        const double r = reach;
        board.surface = scaled.cwiseQuotient(Row(1, r, r, r * r, r * r, r * r));
        const auto middle_off = off.begin() + std::ptrdiff_t(off.size() / 2);
        std::nth_element(off.begin(), middle_off, off.end());
        board.noise = 1.4826 * *middle_off;  // of the middle absolute deviation of a normal distribution
        width = std::clamp(4 * board.noise, 1e-3 * reach, 2 * tolerance);
    }
}

}  // namespace

Board scaled(const Board& board, double factor) {
    Board other = board;
    other.to_board.translation() *= factor;
    other.surface[0] *= factor;
    other.surface.tail<3>() /= factor;
    other.noise *= factor;
    other.height_sigma *= factor;
    return other;
}

Board level_board(const Vec3& at, const Vec3& up) {
    Board board;
    board.to_board = frame_of({up, up.dot(at)}, at);
    return board;
}

std::optional<Board> find_board(const PointSet& points, const StopControl& control) {
    const double size = robust_diagonal(points, control);
    if (!(size > 0) || points.size() < 200) return std::nullopt;
    const double cell = size / cells_across;
    const Scene scene(points, cell, control);
    const PointSet& thin = scene.points;
    const double tolerance = std::max(cell, 3 * survey(thin, 3 * cell, control).noise);

    std::vector<std::size_t> left(thin.size());
    for (std::size_t i = 0; i < left.size(); ++i) left[i] = i;
    std::optional<Standing> found;
    double step = size;  // down to what the board lies on
    EveryNthCheck now_and_then(control, proposals_a_look);
    std::mt19937 dice(7);  // any fixed seed: the same scan gives the same board
    for (int tried = 0; tried < planes_tried; ++tried) {
        if (double(left.size()) < least_share * double(thin.size())) break;
        const auto on = [&](const Plane& plane, std::size_t i) {
            return std::abs(plane.distance(thin.positions[i])) < tolerance &&
                   std::abs(scene.normals[i].dot(plane.normal)) > normal_agreement;
        };
        // Count on a subset: proposals differ by far more than its scatter.
        const std::size_t stride = std::max<std::size_t>(1, left.size() / 4000);
        Plane best{Vec3::UnitZ(), 0};
        std::size_t most = 0;
        for (int k = 0; k < proposals; ++k) {
            now_and_then.step();
            const std::size_t seed = left[dice() % left.size()];
            const Vec3& normal = scene.normals[seed];
            const Plane plane{normal, normal.dot(thin.positions[seed])};
            std::size_t count = 0;
            for (std::size_t i = 0; i < left.size(); i += stride) count += on(plane, left[i]);
            if (count > most) {
                most = count;
                best = plane;
            }
        }
        std::vector<std::size_t> members, others;
        for (int refine = 0; refine < 3; ++refine) {
            members.clear();
            others.clear();
            control.check();
            for (const std::size_t i : left) (on(best, i) ? members : others).push_back(i);
            if (members.size() < 30) break;
            best = fit_plane(thin, members);
        }
        if (double(members.size()) < least_share * double(thin.size())) break;

        control.check();
        std::optional<Standing> standing = thing_on(best, scene, members, tolerance, control);
        if (standing && found) {
            const std::optional<double> up = step_up(*standing, *found), down = step_up(*found, *standing);
            if (up || down) step = std::min(step, up ? *up : *down);
            if (up) found = std::move(standing);
        } else if (standing) {
            found = std::move(standing);
        }
        left = std::move(others);
    }
    if (!found) return std::nullopt;
    Board board;
    board.to_board = found->to_board;
    Box3 box;
    for (const Vec3& p : found->thing) box.extend(p);
    const Vec3 middle(box.center().x(), box.center().y(), 0);
    double reach = 0;
    for (const Vec3& p : found->thing) reach = std::max(reach, (p - middle).head<2>().norm());
    fit_warp(board, points, middle, reach, std::min(tolerance, step / 4), control);
    EveryNthCheck points_seen(control, points_a_look);
    std::size_t on_board = 0;
    for (const Vec3& p : points.positions) {
        points_seen.step();
        on_board += std::abs(board.above(board.to_board * p)) < std::max(3 * board.noise, cell / 2);
    }
    board.share = double(on_board) / double(points.size());
    return board;
}

}  // namespace evenspit::scan
