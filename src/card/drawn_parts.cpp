// SPDX-License-Identifier: MIT
#include "card/drawn_parts.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <variant>

#include "analysis/placed.h"

namespace evenspit::card {
namespace {

constexpr double far_m = 5;  // beyond any sheet

struct CutSurface {
    LookedAt from;
    double at_m;
    bool fire;
    const Scale& scale;
    const Frame& inside;
    Sheet& sheet;

    void line(const std::vector<Vec2>& points_m) const {
        std::vector<Vec2> points;
        points.reserve(points_m.size());
        for (const Vec2& p : points_m) points.push_back(scale(p));
        for (std::vector<Vec2>& piece : clipped_line(points, inside))
            sheet.shapes.emplace_back(
                SheetPath{{std::move(piece)}, false, std::nullopt, Stroke{1.4, wall_grey}});
    }

    void operator()(const BoxShape& box) const {
        if (from == LookedAt::from_point && (at_m < box.min.x() || at_m > box.max.x())) return;
        const Vec2 low = seen(box.min, from), high = seen(box.max, from);
        std::vector<Vec2> corners;
        for (const Vec2& corner : {low, Vec2(high.x(), low.y()), high, Vec2(low.x(), high.y())})
            corners.push_back(scale(corner));
        std::vector<Vec2> left = clipped_polygon(corners, inside);
        if (left.size() < 3) return;
        sheet.shapes.emplace_back(
            SheetPath{{std::move(left)}, true, fire ? coal_grey : 0.93, Stroke{1, fire ? 0 : wall_grey}});
    }
    void operator()(const PlaneShape& plane) const {
        // Of the plane's line in the drawing: n · p = n · point.
        const Vec2 n = seen(plane.normal, from);
        if (n.norm() < 0.1) return;
        const double cut = from == LookedAt::from_front ? 0 : at_m;
        const Vec3 on(cut, 0, 0);
        const double far =
            plane.normal.dot(plane.point) - (from == LookedAt::from_point ? plane.normal.dot(on) : 0);
        const Vec2 foot = n * far / n.squaredNorm(), along = Vec2(-n.y(), n.x()).normalized();
        line({foot - far_m * along, foot + far_m * along});
    }
    void operator()(const RevolvedShape& wall) const {
        for (const double side : {-1.0, 1.0}) {
            std::vector<Vec2> points;
            for (std::size_t p = 0; p + 1 < wall.profile.size(); ++p) {
                constexpr int pieces = 12;
                for (int n = 0; n <= pieces; ++n) {
                    const Vec2 at =
                        wall.profile[p] + double(n) / pieces * (wall.profile[p + 1] - wall.profile[p]);
                    points.push_back(place(wall, at, side));
                }
            }
            line(points);
        }
    }
    void operator()(const MeshShape& mesh) const {
        constexpr double cell_m = 0.004;
        for (std::vector<Vec2> ring : silhouette({*mesh.mesh}, from, cell_m)) {
            ring.push_back(ring.front());
            line(ring);
        }
    }

    /// Not finite where the cut misses it.
    [[nodiscard]] Vec2 place(const RevolvedShape& wall, const Vec2& at, double side) const {
        const double beside = from == LookedAt::from_front ? -wall.centre.y() : at_m - wall.centre.x();
        const double half = std::sqrt(at.x() * at.x() - beside * beside);
        const double middle = from == LookedAt::from_front ? wall.centre.x() : wall.centre.y();
        return {middle + side * half, wall.centre.z() + at.y()};
    }
};

/// Labels that push one another, moved as one.
struct Block {
    std::size_t first, count;
    double start, width;
};

}  // namespace

DrawnLoad drawn_load(const Assembly& load, const Analysis& analysis, UnitSystem units) {
    constexpr double cells = 420;
    DrawnLoad drawn{load, analysis, units};
    for (const PlacedItem& placed : place_items(load)) {
        const std::vector<body::Part>& parts = load.items[drawn.from_front.size()].body->body.parts;
        std::vector<TriangleMesh> outer;
        for (std::size_t p = 0; p < placed.parts.size(); ++p) {
            if (body::displaces(parts[p])) outer.push_back(placed.parts[p]);
        }
        const double cell_m = placed.bounds.sizes().maxCoeff() / cells;
        drawn.from_front.push_back(silhouette(outer, LookedAt::from_front, cell_m));
        drawn.from_point.push_back(silhouette(outer, LookedAt::from_point, cell_m));
    }
    return drawn;
}

void draw_cooker(Sheet& sheet, const Cooker& cooker, LookedAt from, double at_m, const Scale& scale,
                 const Frame& inside) {
    for (const CookerSurface& surface : cooker.surfaces)
        std::visit(CutSurface{from, at_m, surface.fire, scale, inside, sheet}, surface.shape);
}

double reach_m(const DrawnLoad& drawn) {
    constexpr double least_m = 0.02;
    double reach = least_m;
    for (const OutlinePiece& piece : drawn.analysis.clearance.outline.pieces)
        reach = std::max({reach, piece.r0, piece.r1});
    for (const Fork& fork : drawn.load.forks) {
        reach = std::max(reach, cage_reach_m(fork.cage));
        for (const Tine& tine : fork.tines) reach = std::max(reach, pin_reach(fork, tine));
    }
    for (const Counterweight& weight : drawn.load.counterweights)
        reach = std::max(reach, weight.radius_m + weight.diameter_m / 2);
    return reach;
}

std::vector<double> spread_out(const std::vector<double>& wanted, const std::vector<double>& widths,
                               double gap, double from, double to) {
    const double total = std::accumulate(widths.begin(), widths.end(), 0.0) +
                         gap * (widths.empty() ? 0 : double(widths.size() - 1));
    if (total > to - from) return {};
    std::vector<Block> blocks;
    // Where a block's start lies when the mean of its labels is where they belong.
    const auto settle = [&](Block& block) {
        double offset = 0, sum = 0;
        for (std::size_t i = block.first; i < block.first + block.count; ++i) {
            sum += wanted[i] - (offset + widths[i] / 2);
            offset += widths[i] + gap;
        }
        block.width = offset - gap;
        block.start = std::clamp(sum / double(block.count), from, to - block.width);
    };
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        blocks.push_back({i, 1, 0, 0});
        settle(blocks.back());
        while (blocks.size() > 1) {
            const Block& last = blocks.back();
            Block& before = blocks[blocks.size() - 2];
            if (before.start + before.width + gap <= last.start) break;
            before.count += last.count;
            blocks.pop_back();
            settle(blocks.back());
        }
    }
    std::vector<double> middles;
    for (const Block& block : blocks) {
        double at = block.start;
        for (std::size_t i = block.first; i < block.first + block.count; ++i) {
            middles.push_back(at + widths[i] / 2);
            at += widths[i] + gap;
        }
    }
    return middles;
}

}  // namespace evenspit::card
