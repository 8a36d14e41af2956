// SPDX-License-Identifier: MIT
#include "geometry/sweep_tree.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "geometry/slabs.h"

namespace evenspit {

namespace {

constexpr double out_of_doubt = 1e-9;  // m; more than rounding makes of any length

}  // namespace

// How far out a node may reach: between two stations, at each station within a radius that changes in a line.
struct SweepTree::Look {
    Reach reach;
    std::int32_t node;
};

namespace {

constexpr double least_outward = 0.03;  // a plane that stands steeper on the axis says little

}  // namespace

SweepTree::Look SweepTree::look(const SpotView& view, std::int32_t number) const {
    const Node& node = nodes_[static_cast<std::size_t>(number)];
    const double scale = view.scale();
    const Spot middle = view(node.middle);
    const double along = scale * view.half_along(1, 0, 0, node.half);
    // Outward from the axis, and round it: turned so, the box is round its corners most tightly.
    const double far = std::sqrt(middle.square);
    const double uy = far > 0 ? middle.y / far : 1, uz = far > 0 ? middle.z / far : 0;
    const double out = far + scale * view.half_along(0, uy, uz, node.half);
    const double round = scale * view.half_along(0, -uz, uy, node.half);
    const double furthest = out + round * round / (2 * out);
    Look look{{middle.x - along, middle.x + along, middle.x, furthest, 0, furthest}, number};
    // Below its plane a point that lies dx along and dt round is no further out than
    // far + (above − n_x dx − n_t dt) / n_r, and round it |dt| adds to that.
    const auto normal = [&](int row) {
        return view.along(row, node.normal[0], node.normal[1], node.normal[2]);
    };
    const double n_y = normal(1), n_z = normal(2), n_r = uy * n_y + uz * n_z;
    if (n_r < least_outward) return look;
    const double level = far + (scale * node.above + std::abs(uy * n_z - uz * n_y) * round) / n_r;
    const double rise = -normal(0) / n_r;
    const double least = level - std::abs(rise) * along;
    if (least < round || out - 2 * far > least) return look;  // near the axis it may be on either side
    look.reach.radius = level + round * round / (2 * least);
    look.reach.rise = rise;
    return look;
}

// One sweep.
class SweepTree::Sweep {
  public:
    Sweep(const SweepTree& tree, const SpotView& view, double step)
        : tree_(tree),
          view_(view),
          slabs_(end_station(-1), end_station(1), step, tree.vertices_.size()),
          crossed_(tree.nodes_.size(), 0) {}

    [[nodiscard]] std::vector<OutlinePiece> pieces(int part) {
        cross_likely();
        cross_the_rest();
        slabs_.raise();
        slabs_.lay_chords();
        std::erase_if(met_, [this](const Spot& spot) { return !slabs_.rises(spot); });
        return slabs_.pieces(met_, part);
    }

  private:
    // The first station of any vertex (sign −1), or the last (sign 1).
    [[nodiscard]] double end_station(double sign) const {
        double best = -std::numeric_limits<double>::infinity();
        std::vector<Look> stack{look(0)};
        const auto furthest = [sign](const Look& l) { return sign > 0 ? l.reach.x1 : -l.reach.x0; };
        while (!stack.empty()) {
            const Look next = stack.back();
            stack.pop_back();
            if (furthest(next) < best - out_of_doubt) continue;
            const Node& node = tree_.nodes_[static_cast<std::size_t>(next.node)];
            if (node.vertices == 0) {
                Look near = look(node.first_vertex), far = look(node.first_vertex + 1);
                if (furthest(far) > furthest(near)) std::swap(near, far);
                stack.push_back(far);
                stack.push_back(near);
                continue;
            }
            for (std::int32_t v = 0; v < node.vertices; ++v)
                best = std::max(best, sign * view_(vertex(node, v)).x);
        }
        return sign * best;
    }

    // One vertex of each leaf tells where to begin: in each slab with the leaf whose one is furthest out. So
    // much is hidden by those vertices and leaves that of the rest little has to be looked at.
    void cross_likely() {
        struct Likely {
            double square = -1;
            std::int32_t leaf = 0;
        };
        std::vector<Likely> likely(slabs_.planes());
        for (const std::int32_t number : tree_.leaves_) {
            const Node& leaf = tree_.nodes_[static_cast<std::size_t>(number)];
            Spot spot = view_(vertex(leaf, leaf.vertices / 2));
            slabs_.locate(spot);
            slabs_.note(spot);
            Likely& there = likely[static_cast<std::size_t>(spot.slab)];
            if (spot.square > there.square) there = {spot.square, number};
        }
        for (const Likely& one : likely) {
            if (one.square >= 0) cross(one.leaf);
        }
    }

    void cross_the_rest() {
        // The more is crossed, the more is hidden.
        std::size_t count = 0, look_again = 16, raise_again = 0;
        std::vector<Look> stack{look(0)};
        while (!stack.empty()) {
            const Look next = stack.back();
            stack.pop_back();
            if (slabs_.hides(next.reach)) continue;
            const Node& node = tree_.nodes_[static_cast<std::size_t>(next.node)];
            if (node.vertices > 0) {
                if (count == raise_again) {
                    slabs_.raise();
                    raise_again += 8 + raise_again / 4;
                }
                if (count++ == look_again) {
                    hiding_ = slabs_.hiding(view_.scale() * tree_.usual_edge_ * (1 + 1e-9));
                    look_again *= 2;
                }
                cross(next.node);
                continue;
            }
            // What reaches out further first: it may hide the other.
            Look near = look(node.first_vertex), far = look(node.first_vertex + 1);
            if (far.reach.furthest < near.reach.furthest) std::swap(near, far);
            stack.push_back(near);
            stack.push_back(far);
        }
    }

    // Once each.
    void cross(std::int32_t number) {
        if (std::exchange(crossed_[static_cast<std::size_t>(number)], 1) != 0) return;
        const Node& leaf = tree_.nodes_[static_cast<std::size_t>(number)];
        const auto count = static_cast<std::size_t>(leaf.vertices);
        const Vec3* const vertices = tree_.vertices_.data() + leaf.first_vertex;
        const bool all = hiding_.empty() || leaf.longest > tree_.usual_edge_;
        bool in_plane = false;
        spots_.resize(count);
        live_.resize(count);
        for (std::size_t v = 0; v < count; ++v) {
            Spot& spot = spots_[v] = view_(vertices[v]);
            spot.slab = static_cast<std::int32_t>(slabs_.slab_of(spot.x));
            live_[v] = all || !hiding_[static_cast<std::size_t>(spot.slab)].hides(spot.x, spot.square);
            if (!live_[v]) continue;
            in_plane = slabs_.touch(spot) || in_plane;
            if (slabs_.holds(spot)) continue;
            slabs_.note(spot);
            met_.push_back(spot);
        }
        const auto* const edges = tree_.edges_.data() + leaf.first_edge;
        for (std::int32_t e = 0; e < leaf.edges; ++e) {
            const auto [a, b] = edges[e];
            // An edge within a slab leaves something only where it begins in its plane. One branch, as
            // neither is foretold.
            const int crosses = int{in_plane} | int{spots_[a].slab != spots_[b].slab};
            if ((crosses & (live_[a] | live_[b])) != 0) slabs_.cross(spots_[a], spots_[b]);
        }
    }

    [[nodiscard]] Look look(std::int32_t node) const { return tree_.look(view_, node); }
    [[nodiscard]] const Vec3& vertex(const Node& leaf, std::int32_t v) const {
        return tree_.vertices_[static_cast<std::size_t>(leaf.first_vertex + v)];
    }

    const SweepTree& tree_;
    const SpotView& view_;
    Slabs slabs_;
    std::vector<std::uint8_t> crossed_;  // by node
    std::vector<Spot> met_;       // vertices that may touch the outline; one may stand there more than once
    std::vector<Hiding> hiding_;  // none before the likely leaves are crossed
    // Of the leaf at hand: its vertices, and which of them count.
    std::vector<Spot> spots_;
    std::vector<std::uint8_t> live_;
};

std::vector<OutlinePiece> SweepTree::pieces(const Pose& pose, double scale, double step, int part) const {
    if (nodes_.empty()) return {};
    const SpotView view(pose, scale);
    return Sweep(*this, view, step).pieces(part);
}

}  // namespace evenspit
