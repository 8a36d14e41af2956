// SPDX-License-Identifier: MIT
#include "analysis/outer_skin.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "load/arrangement.h"
#include "units/parallel.h"

namespace evenspit {
namespace {

/// Smaller meshes are swept whole as quickly.
constexpr std::size_t worth_reducing = 2000;
/// Into how many groups an item's mountings are gathered at most, and how far one may lie from its group's
/// middle, m, before another group is worth making.
constexpr std::size_t most_groups = 32;
constexpr double near_enough_m = 0.002;
/// Slabs of mountings, m: dents narrower than that count as filled, so that nothing is kinder than the whole.
constexpr double coarse_step_m = 0.004;
/// What rounding may add, m.
constexpr double hair_m = 1e-9;

/// The greatest |A p + t| over the corners of a box: a convex function is greatest at one.
double greatest_move(const Box3& box, const Mat3& a, const Vec3& t) {
    double greatest = 0;
    for (int corner = 0; corner < 8; ++corner) {
        const Vec3 p = box.corner(static_cast<Box3::CornerType>(corner));
        greatest = std::max(greatest, (a * p + t).norm());
    }
    return greatest;
}

/// The outline's least radius between any two stations, by a table that halves its steps.
class LeastRadius {
  public:
    explicit LeastRadius(const Outline& outline) : from_(outline.pieces.front().x0) {
        const double to = outline.pieces.back().x1;
        step_ = std::max((to - from_) / cells, hair_m);
        std::vector<double> least(cells, std::numeric_limits<double>::infinity());
        std::vector<bool> reached(cells, false);
        for (const OutlinePiece& piece : outline.pieces) {
            const auto [first, last] = std::pair{cell(piece.x0), cell(piece.x1)};
            for (std::size_t c = first; c <= last; ++c) {
                least[c] = std::min({least[c], piece.r0, piece.r1});
                reached[c] = true;
            }
        }
        for (std::size_t c = 0; c < cells; ++c) {
            if (!reached[c]) least[c] = 0;  // nothing is there
        }
        levels_.push_back(std::move(least));
        for (std::size_t width = 1; 2 * width <= cells; width *= 2) {
            const std::vector<double>& finer = levels_.back();
            std::vector<double> level(cells - 2 * width + 1);
            for (std::size_t c = 0; c < level.size(); ++c) level[c] = std::min(finer[c], finer[c + width]);
            levels_.push_back(std::move(level));
        }
    }

    /// 0 where the stretch leaves the outline.
    [[nodiscard]] double between(double x0, double x1) const {
        const double end = from_ + step_ * cells;
        if (x0 < from_ || x1 > end) return 0;
        const std::size_t first = cell(x0), last = cell(x1), count = last - first + 1;
        std::size_t level = 0;
        while ((std::size_t{2} << level) <= count) ++level;
        return std::min(levels_[level][first], levels_[level][last + 1 - (std::size_t{1} << level)]);
    }

  private:
    static constexpr std::size_t cells = 2048;

    [[nodiscard]] std::size_t cell(double x) const {
        const double at = (x - from_) / step_;
        return std::min(static_cast<std::size_t>(std::max(0.0, at)), cells - 1);
    }

    double from_ = 0, step_ = 0;
    std::vector<std::vector<double>> levels_;
};

}  // namespace

double off_the_line(const Item& written, const Item& mounted) {
    const auto bare = [](const Item& item) {
        Seat seat = item.seat;
        seat.at_m = 0;
        seat.turn_rad = 0;
        return pose_in(item, seat) * (pose_in(item, item.seat).inverse() * item.pose);
    };
    const Pose before = bare(written), after = bare(mounted);
    const Mat3 a = mounted.off.scale * after.linear() - written.off.scale * before.linear();
    return greatest_move(written.body->bounds, a, after.translation() - before.translation());
}

TriangleMesh outer_skin(const TriangleMesh& mesh, const Pose& pose, double scale, double off_m) {
    const Outline outline = sweep({{&mesh, pose, 0, scale}}, {});
    if (outline.empty()) return mesh;
    const LeastRadius inner(outline);
    std::vector<Vec2> seen(mesh.vertices.size());  // station, radius
    for (std::size_t v = 0; v < seen.size(); ++v) {
        const Vec3 p = pose * (scale * mesh.vertices[v]);
        seen[v] = {p.x(), p.tail<2>().norm()};
    }
    TriangleMesh outer;
    std::vector<std::int32_t> number(mesh.vertices.size(), -1);
    for (const Triangle& triangle : mesh.triangles) {
        Vec2 low = seen[static_cast<std::size_t>(triangle[0])], high = low;
        for (const std::int32_t v : triangle) {
            low = low.cwiseMin(seen[static_cast<std::size_t>(v)]);
            high = high.cwiseMax(seen[static_cast<std::size_t>(v)]);
        }
        const double around = inner.between(low.x() - 2 * off_m - hair_m, high.x() + 2 * off_m + hair_m);
        if (high.y() + off_m < around - off_m - hair_m) continue;
        Triangle kept = triangle;
        for (std::int32_t& v : kept) {
            std::int32_t& name = number[static_cast<std::size_t>(v)];
            if (name < 0) {
                name = static_cast<std::int32_t>(outer.vertices.size());
                outer.vertices.push_back(mesh.vertices[static_cast<std::size_t>(v)]);
            }
            v = name;
        }
        outer.triangles.push_back(kept);
    }
    return outer;
}

QuickSweep::Groups QuickSweep::groups_of(const Item& written, const std::vector<Item>& mounted) {
    std::size_t triangles = 0;
    for (const TriangleMesh* mesh : displacing_parts(written.body->body)) triangles += mesh->triangles.size();
    if (triangles < worth_reducing || mounted.empty()) return {};
    // Middles: the written one, then always what lies furthest from those there are.
    std::vector<std::size_t> whose(mounted.size(), 0);
    std::vector<double> off(mounted.size());
    Groups groups{{.middle = written}};
    for (std::size_t k = 0; k < mounted.size(); ++k) off[k] = off_the_line(written, mounted[k]);
    while (groups.size() < most_groups) {
        const auto furthest = std::max_element(off.begin(), off.end());
        if (*furthest < near_enough_m) break;
        groups.push_back({.middle = mounted[static_cast<std::size_t>(furthest - off.begin())]});
        for (std::size_t k = 0; k < mounted.size(); ++k) {
            const double from_here = off_the_line(groups.back().middle, mounted[k]);
            if (from_here >= off[k]) continue;
            off[k] = from_here;
            whose[k] = groups.size() - 1;
        }
    }
    for (std::size_t k = 0; k < mounted.size(); ++k) {
        Group& group = groups[whose[k]];
        group.off_m = std::max(group.off_m, off[k] + hair_m);
    }
    parallel_for(
        groups.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t g = first; g < last; ++g) {
                Group& group = groups[g];
                for (const TriangleMesh* mesh : displacing_parts(written.body->body))
                    group.skins.push_back(
                        outer_skin(*mesh, group.middle.pose, group.middle.off.scale, group.off_m));
            }
        },
        1);
    return groups;
}

QuickSweep::QuickSweep(const Assembly& written, const Mountings& mountings) {
    std::vector<std::vector<Item>> mounted(written.items.size());
    Assembly work = written;
    for (std::size_t k = 0; k < mountings.count(); ++k) {
        mountings.mount(work, k);
        for (std::size_t i = 0; i < work.items.size(); ++i) mounted[i].push_back(work.items[i]);
    }
    for (std::size_t i = 0; i < written.items.size(); ++i)
        items_.push_back(groups_of(written.items[i], mounted[i]));
}

SweptLoad QuickSweep::operator()(const Assembly& mounting) const {
    std::vector<SweptItemParts> parts(items_.size());
    for (std::size_t i = 0; i < items_.size(); ++i) {
        const Group* nearest = nullptr;
        double least = 0;
        for (const Group& group : items_[i]) {
            const double off = off_the_line(group.middle, mounting.items[i]);
            if (off > group.off_m || (nearest != nullptr && group.off_m >= least)) continue;
            nearest = &group;
            least = group.off_m;
        }
        if (nearest == nullptr) {
            parts[i] = displacing_parts(mounting.items[i].body->body);
            continue;
        }
        for (const TriangleMesh& mesh : nearest->skins) parts[i].push_back(&mesh);
    }
    return swept_load(mounting, parts, coarse_step_m);
}

}  // namespace evenspit
