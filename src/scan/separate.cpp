// SPDX-License-Identifier: MIT
#include "scan/separate.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numeric>
#include <utility>

#include "scan/clusters.h"
#include "scan/every_nth.h"
#include "scan/nearest.h"
#include "scan/neighbours.h"
#include "scan/points.h"
#include "scan/stoppable.h"

namespace evenspit::scan {

namespace {

constexpr double cut_in_noises = 3.5;
constexpr double gap_in_diagonals = 1.0 / 30;    // pieces nearer to the body than this belong to it
constexpr double patch_in_diagonals = 1.0 / 45;  // radius of the patches on which the surface is surveyed
constexpr double cells_across = 100;             // of what is looked at
constexpr double stray_share = 0.2;              // of the usual number of neighbours
constexpr double least_piece_share = 1e-3;  // of the body's points: smaller pieces are strays, not clutter
// Another piece than the largest is the body where it is so large beside it and fills so many cubes as well,
// and the largest stands so far out, in radii of its own.
constexpr double view_points = 20000;
constexpr double least_of_largest = 0.2, holds_in_cells = 2, stands_out = 0.5;

double diagonal_of(const std::vector<Vec3>& points) {
    Box3 box;
    for (const Vec3& p : points) box.extend(p);
    return points.empty() ? 0 : box.diagonal().norm();
}

std::vector<std::size_t> all_of(std::size_t n) {
    std::vector<std::size_t> indices(n);
    std::iota(indices.begin(), indices.end(), std::size_t{0});
    return indices;
}

// How many points of the scan lie near each.
std::vector<double> crowds(const PointSet& points, double radius, const StopControl& control) {
    const NeighbourGrid grid(points.positions, radius, control);
    std::vector<double> crowd(points.size(), 0.0);
    constexpr std::size_t piece = 256;  // each may have thousands near it
    stoppable_for(
        control, points.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t i = first; i < last; ++i) {
                grid.for_each_within(points.positions[i], radius,
                                     [&](std::size_t j, double) { crowd[i] += points.count(j); });
            }
        },
        piece);
    return crowd;
}

double middle_value(std::vector<double> values) {
    const auto middle = values.begin() + std::ptrdiff_t(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

// The line over the middle of a board along which whoever walked round the body looked.
struct MiddleOfView {
    Vec3 at = Vec3::Zero(), up = Vec3::UnitZ();
    [[nodiscard]] double distance(const Vec3& p) const { return (p - at).cross(up).norm(); }
};

// Middle values count: what stands about on one side moves them little.
MiddleOfView middle_of_view(const PointSet& points, const Board& board) {
    std::vector<double> x, y;
    for (const Vec3& p : every_nth(points.positions, view_points)) {
        const Vec3 q = board.to_board * p;
        x.push_back(q.x());
        y.push_back(q.y());
    }
    const Pose to_scan = board.to_board.inverse();
    return {to_scan * Vec3(middle_value(std::move(x)), middle_value(std::move(y)), 0),
            to_scan.linear() * Vec3::UnitZ()};
}

// The piece that is the body: the largest, or if that stands aside, the largest over the middle of the view.
std::int32_t body_piece(const PointSet& rest, const Clusters& pieces, double cell,
                        const std::optional<MiddleOfView>& view, const StopControl& control) {
    const std::int32_t largest = pieces.largest();
    if (!view) return largest;
    EveryNthCheck now_and_then(control, points_a_look);
    std::vector<double> nearest(pieces.extents.size(), std::numeric_limits<double>::infinity());
    Box3 box;
    for (std::size_t i = 0; i < rest.size(); ++i) {
        now_and_then.step();
        double& near = nearest[std::size_t(pieces.of[i])];
        near = std::min(near, view->distance(rest.positions[i]));
        if (pieces.of[i] == largest) box.extend(rest.positions[i]);
    }
    std::int32_t found = largest;
    if (nearest[std::size_t(largest)] < stands_out * box.diagonal().norm() / 2) return found;
    double most = least_of_largest * pieces.extents[std::size_t(largest)];
    for (std::size_t piece = 0; piece < nearest.size(); ++piece) {
        if (nearest[piece] > holds_in_cells * cell || pieces.extents[piece] < most) continue;
        most = pieces.extents[piece];
        found = std::int32_t(piece);
    }
    return found;
}

// The piece that is the body and what is near it, of points whose cubes have a side of `cell` at least; the
// rest is counted.
void keep_body(PointSet rest, double cell, const std::optional<MiddleOfView>& view, Separated& result,
               const StopControl& control) {
    EveryNthCheck now_and_then(control, points_a_look);
    // Cubes must not be finer than the points are apart.
    const double spacing = survey(rest, 2 * cell, control).spacing;
    const Clusters tight = cluster(rest.positions, std::max(cell, 3 * spacing), control);
    const std::int32_t main = body_piece(rest, tight, std::max(cell, 3 * spacing), view, control);
    std::vector<Vec3> body;
    std::vector<std::size_t> size(tight.extents.size(), 0);
    for (std::size_t i = 0; i < rest.size(); ++i) {
        now_and_then.step();
        ++size[std::size_t(tight.of[i])];
        if (tight.of[i] == main) body.push_back(rest.positions[i]);
    }
    const double reach = std::max(diagonal_of(body) * gap_in_diagonals, 2 * spacing);
    const NearestPoints near_body(body, control);
    std::vector<bool> joined(tight.extents.size(), false);
    for (std::size_t i = 0; i < rest.size(); ++i) {
        now_and_then.step();
        const auto piece = std::size_t(tight.of[i]);
        if (!joined[piece] && (tight.of[i] == main || near_body.within(rest.positions[i], reach) >= 0))
            joined[piece] = true;
    }
    control.check();
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < rest.size(); ++i) {
        const auto piece = std::size_t(tight.of[i]);
        if (joined[piece]) {
            kept.push_back(i);
        } else if (double(size[piece]) < least_piece_share * double(body.size())) {
            ++result.strays;
        } else {
            ++result.clutter;
        }
    }
    for (std::size_t piece = 0; piece < size.size(); ++piece)
        result.pieces += !joined[piece] && double(size[piece]) >= least_piece_share * double(body.size());

    control.check();
    result.body = selected(rest, kept);
    result.diagonal = diagonal_of(result.body.positions);
    result.surface = survey(result.body, result.diagonal * patch_in_diagonals, control);
}

}  // namespace

Separated scaled(Separated separated, double factor) {
    for (Vec3& p : separated.body.positions) p *= factor;
    separated.diagonal *= factor;
    separated.surface.spacing *= factor;
    separated.surface.noise *= factor;
    separated.cut *= factor;
    return separated;
}

double cut_height(const Board& board) {
    return cut_in_noises * board.noise;
}

Separated separate_body(const PointSet& points, const std::optional<Board>& board,
                        const StopControl& control) {
    Separated result;
    EveryNthCheck now_and_then(control, points_a_look);
    std::vector<std::size_t> kept;
    if (board) {
        result.cut = cut_height(*board);
        for (std::size_t i = 0; i < points.size(); ++i) {
            now_and_then.step();
            if (board->above(board->to_board * points.positions[i]) > result.cut) {
                kept.push_back(i);
            } else {
                ++result.on_board;
            }
        }
    } else {
        kept = all_of(points.size());
    }
    if (kept.empty()) return result;
    control.check();
    PointSet rest = selected(points, kept);
    control.check();

    // Strays first: a haze of them would tie the body to what stands beside it.
    const double scene = robust_diagonal(rest, control);
    if (!(scene > 0)) return result;
    const double cell = scene / cells_across;
    {
        const std::vector<double> crowd = crowds(rest, cell, control);
        control.check();
        const double usual = middle_value(crowd);
        control.check();
        kept.clear();
        for (std::size_t i = 0; i < rest.size(); ++i) {
            now_and_then.step();
            if (crowd[i] > stray_share * usual || usual < 3) {
                kept.push_back(i);
            } else {
                ++result.strays;
            }
        }
        control.check();
        rest = selected(rest, kept);
        control.check();
    }

    std::optional<MiddleOfView> view;
    if (board) view = middle_of_view(points, *board);
    keep_body(std::move(rest), cell, view, result, control);
    return result;
}

void drop_loose_pieces(Separated& separated, const StopControl& control) {
    PointSet rest = std::move(separated.body);
    const double scene = robust_diagonal(rest, control);
    if (!(scene > 0)) {
        separated.body = std::move(rest);
        return;
    }
    keep_body(std::move(rest), scene / cells_across, std::nullopt, separated, control);
}

}  // namespace evenspit::scan
