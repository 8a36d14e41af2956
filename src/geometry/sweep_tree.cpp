// SPDX-License-Identifier: MIT
#include "geometry/sweep_tree.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <span>
#include <stdexcept>

#include "geometry/slabs.h"
#include "units/parallel.h"

namespace evenspit {

namespace {

constexpr std::size_t leaf_size = 12;      // triangles
constexpr std::size_t nearly_flat = 1000;  // triangles; of more a plane says little that their box does not
constexpr double out_of_doubt = 1e-9;      // m; more than rounding makes of any length

// Which edges of triangles are met from the other side too. Of the two it is enough to sweep one.
class Twins {
  public:
    explicit Twins(const TriangleMesh& mesh) : first_(mesh.vertices.size() + 1, 0) {
        for (const Triangle& t : mesh.triangles) {
            for (const std::int32_t from : t) ++first_[static_cast<std::size_t>(from) + 1];
        }
        std::partial_sum(first_.begin(), first_.end(), first_.begin());
        to_.resize(first_.back());
        std::vector<std::size_t> next(first_.begin(), first_.end() - 1);
        for (const Triangle& t : mesh.triangles) {
            for (std::size_t k = 0; k < 3; ++k) to_[next[static_cast<std::size_t>(t[k])]++] = t[(k + 1) % 3];
        }
    }
    // Whether some triangle has this edge in this direction.
    [[nodiscard]] bool has(std::int32_t from, std::int32_t to) const {
        const auto at = [&](std::int32_t vertex) {
            return to_.begin() + static_cast<std::ptrdiff_t>(first_[static_cast<std::size_t>(vertex)]);
        };
        return std::find(at(from), at(from + 1), to) != at(from + 1);
    }

  private:
    std::vector<std::size_t> first_;  // by vertex, into to_
    std::vector<std::int32_t> to_;
};

}  // namespace

// Halves the triangles by their middles, along the axis along which these differ most. An edge between two
// triangles belongs to one of them only.
struct SweepTree::Builder {
    SweepTree& tree;
    const TriangleMesh& mesh;
    Twins twins{mesh};
    std::vector<std::int32_t> order{};
    std::vector<Vec3> middles{};
    std::vector<std::pair<std::int32_t, std::int32_t>> ends{};  // of a leaf's edges
    std::vector<std::int32_t> names{};                          // of a leaf's vertices

    void build() {
        if (mesh.triangles.empty()) return;
        order.resize(mesh.triangles.size());
        std::iota(order.begin(), order.end(), 0);
        middles.reserve(order.size());
        for (const Triangle& t : mesh.triangles)
            middles.push_back((mesh.corner(t, 0) + mesh.corner(t, 1) + mesh.corner(t, 2)) / 3);
        tree.nodes_.reserve(order.size() / 2);
        tree.nodes_.emplace_back();
        grow(0, order);
    }

    Box3 grow(std::size_t node, std::span<std::int32_t> triangles) {
        Box3 box;
        if (triangles.size() <= leaf_size) {
            fill_leaf(tree.nodes_[node], triangles);
            for (const std::int32_t name : names) box.extend(mesh.vertices[static_cast<std::size_t>(name)]);
        } else {
            const std::size_t half = halve(triangles);
            const std::size_t left = tree.nodes_.size();
            tree.nodes_[node].first_vertex = static_cast<std::int32_t>(left);
            tree.nodes_.resize(left + 2);
            box = grow(left, triangles.first(half));
            box.extend(grow(left + 1, triangles.subspan(half)));
        }
        tree.nodes_[node].middle = box.center();
        tree.nodes_[node].half = box.sizes() / 2;
        if (triangles.size() <= nearly_flat) lay_plane(tree.nodes_[node], triangles);
        return box;
    }

    // Puts first the half that lies before.
    std::size_t halve(std::span<std::int32_t> triangles) const {
        Box3 box;
        for (const std::int32_t t : triangles) box.extend(middles[static_cast<std::size_t>(t)]);
        Eigen::Index axis = 0;
        box.sizes().maxCoeff(&axis);
        const std::size_t half = triangles.size() / 2;
        std::nth_element(triangles.begin(), triangles.begin() + static_cast<std::ptrdiff_t>(half),
                         triangles.end(), [&](std::int32_t a, std::int32_t b) {
                             return middles[static_cast<std::size_t>(a)][axis] <
                                    middles[static_cast<std::size_t>(b)][axis];
                         });
        return half;
    }

    void lay_plane(Node& node, std::span<const std::int32_t> triangles) const {
        Vec3 sum = Vec3::Zero();
        for (const std::int32_t t : triangles) {
            const Triangle& triangle = mesh.triangles[static_cast<std::size_t>(t)];
            const Vec3& a = mesh.corner(triangle, 0);
            sum += (mesh.corner(triangle, 1) - a).cross(mesh.corner(triangle, 2) - a);
        }
        if (!(sum.squaredNorm() > 0)) return;
        node.normal = sum.normalized();
        node.above = -std::numeric_limits<double>::infinity();
        for (const std::int32_t t : triangles) {
            const Triangle& triangle = mesh.triangles[static_cast<std::size_t>(t)];
            for (int k = 0; k < 3; ++k)
                node.above = std::max(node.above, node.normal.dot(mesh.corner(triangle, k) - node.middle));
        }
    }

    void fill_leaf(Node& leaf, std::span<const std::int32_t> triangles) {
        ends.clear();
        names.clear();
        for (const std::int32_t t : triangles) {
            const Triangle& triangle = mesh.triangles[static_cast<std::size_t>(t)];
            for (std::size_t k = 0; k < 3; ++k) {
                const std::int32_t a = triangle[k], b = triangle[(k + 1) % 3];
                if (a > b && twins.has(b, a)) continue;
                ends.emplace_back(a, b);
                names.push_back(a);
                names.push_back(b);
            }
        }
        std::sort(names.begin(), names.end());
        names.erase(std::unique(names.begin(), names.end()), names.end());
        leaf.first_vertex = static_cast<std::int32_t>(tree.vertices_.size());
        leaf.vertices = static_cast<std::int32_t>(names.size());
        for (const std::int32_t name : names) {
            if (!mesh.vertices[static_cast<std::size_t>(name)].allFinite())
                throw std::invalid_argument("SweepTree: a coordinate of a mesh is not finite");
            tree.vertices_.push_back(mesh.vertices[static_cast<std::size_t>(name)]);
            tree.names_.push_back(name);
        }
        const auto place = [&](std::int32_t name) {
            return static_cast<std::uint16_t>(std::lower_bound(names.begin(), names.end(), name) -
                                              names.begin());
        };
        const auto station = [&](std::int32_t name) {
            return mesh.vertices[static_cast<std::size_t>(name)].x();
        };
        const auto first = static_cast<std::ptrdiff_t>(tree.edges_.size());
        for (auto [a, b] : ends) {
            // In order along the mesh, which is much as along the rod: branches are foretold.
            if (std::pair(station(b), b) < std::pair(station(a), a)) std::swap(a, b);
            tree.edges_.emplace_back(place(a), place(b));
        }
        std::sort(tree.edges_.begin() + first, tree.edges_.end());
        tree.edges_.erase(std::unique(tree.edges_.begin() + first, tree.edges_.end()), tree.edges_.end());
        leaf.first_edge = static_cast<std::int32_t>(first);
        leaf.edges = static_cast<std::int32_t>(tree.edges_.size()) - leaf.first_edge;
    }
};

// How far out a node may reach: between two stations, at each station within a radius that changes in a line.
struct SweepTree::Look {
    Reach reach;
    double furthest;  // radius, m
    std::int32_t node;
};

namespace {

constexpr double least_outward = 0.2;  // a plane that stands steeper on the axis says little

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
    Look look{{middle.x - along, middle.x + along, middle.x, furthest, 0}, furthest, number};
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
        : tree_(tree), view_(view), slabs_(end_station(-1), end_station(1), step) {
        met_.reserve(tree.vertices_.size() / 4);
    }

    [[nodiscard]] std::vector<OutlinePiece> pieces(int part) {
        cross();
        slabs_.lay_chords();
        // As if the mesh's vertices had been asked in their order, each once.
        std::vector<std::pair<std::int32_t, std::size_t>> order;
        std::size_t i = 0;
        for (const Node* leaf : leaves_) {
            for (std::int32_t v = 0; v < leaf->vertices; ++v, ++i) {
                if (slabs_.rises(met_[i])) order.emplace_back(tree_.names_[nth(leaf->first_vertex, v)], i);
            }
        }
        std::sort(order.begin(), order.end());
        std::vector<Spot> rising;
        for (std::size_t k = 0; k < order.size(); ++k) {
            if (k == 0 || order[k].first != order[k - 1].first) rising.push_back(met_[order[k].second]);
        }
        return slabs_.pieces(rising, part);
    }

    /// The leaves that touch the outline, or nearly.
    [[nodiscard]] std::vector<std::int32_t> outermost() {
        cross();
        std::vector<std::int32_t> found;
        for_each_in_reach([](const Node&) { return true; },
                          [&found](std::int32_t number, const Node&) { found.push_back(number); });
        return found;
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

    void cross() {
        for (const std::int32_t leaf : tree_.beginnings_) {
            if (!slabs_.hides(look(leaf).reach)) cross(tree_.nodes_[static_cast<std::size_t>(leaf)]);
        }
        for_each_in_reach([](const Node& node) { return !node.begins; },
                          [this](std::int32_t, const Node& leaf) { cross(leaf); });
    }

    /// The leaves that are not hidden when their turn comes; only below nodes that are wanted.
    template <class Wanted, class Take>
    void for_each_in_reach(const Wanted& wanted, const Take& take) const {
        std::vector<Look> stack{look(0)};
        const auto is_wanted = [&](std::int32_t node) {
            return wanted(tree_.nodes_[static_cast<std::size_t>(node)]);
        };
        if (!is_wanted(0)) return;
        while (!stack.empty()) {
            const Look next = stack.back();
            stack.pop_back();
            if (slabs_.hides(next.reach)) continue;
            const Node& node = tree_.nodes_[static_cast<std::size_t>(next.node)];
            if (node.vertices > 0) {
                take(next.node, node);
                continue;
            }
            const std::int32_t left = node.first_vertex, right = left + 1;
            if (is_wanted(left)) stack.push_back(look(left));
            if (!is_wanted(right)) continue;
            stack.push_back(look(right));
            // What reaches out further first: it may hide the other.
            if (is_wanted(left) && stack.back().furthest < (stack.end() - 2)->furthest)
                std::swap(stack.back(), *(stack.end() - 2));
        }
    }

    void cross(const Node& leaf) {
        const std::size_t first = met_.size();
        met_.resize(first + static_cast<std::size_t>(leaf.vertices));
        Spot* const spots = met_.data() + first;
        for (std::int32_t v = 0; v < leaf.vertices; ++v) {
            spots[v] = view_(vertex(leaf, v));
            slabs_.locate(spots[v]);
        }
        for (std::int32_t e = 0; e < leaf.edges; ++e) {
            const auto& [a, b] = tree_.edges_[nth(leaf.first_edge, e)];
            slabs_.cross(spots[a], spots[b]);
        }
        leaves_.push_back(&leaf);
    }

    // Where something of a leaf stands.
    static std::size_t nth(std::int32_t first, std::int32_t n) {
        return static_cast<std::size_t>(first) + static_cast<std::size_t>(n);
    }
    [[nodiscard]] Look look(std::int32_t node) const { return tree_.look(view_, node); }
    [[nodiscard]] const Vec3& vertex(const Node& leaf, std::int32_t v) const {
        return tree_.vertices_[nth(leaf.first_vertex, v)];
    }

    const SweepTree& tree_;
    const SpotView& view_;
    Slabs slabs_;
    std::vector<const Node*> leaves_;  // that were not passed over
    std::vector<Spot> met_;            // their vertices
};

SweepTree::SweepTree(const TriangleMesh& mesh) {
    Builder{*this, mesh}.build();
}

void SweepTree::begin_as_in(const std::vector<Placing>& placings, double step) {
    if (nodes_.empty() || placings.empty()) return;
    const auto outermost = [&](const Placing& placing) {
        return Sweep(*this, SpotView(placing.pose, placing.scale), step).outermost();
    };
    // What the first finds speeds up the others.
    begin_with(outermost(placings[0]));
    std::vector<std::vector<std::int32_t>> found(placings.size() - 1);
    parallel_for(
        placings.size() - 1,
        [&](std::size_t first, std::size_t last) {
            for (std::size_t p = first; p < last; ++p) found[p] = outermost(placings[p + 1]);
        },
        1);
    std::vector<std::int32_t> all;
    for (const std::vector<std::int32_t>& leaves : found) all.insert(all.end(), leaves.begin(), leaves.end());
    begin_with(all);
}

void SweepTree::begin_with(const std::vector<std::int32_t>& leaves) {
    const auto node = [this](std::int32_t number) -> Node& {
        return nodes_[static_cast<std::size_t>(number)];
    };
    for (const std::int32_t leaf : leaves) {
        if (node(leaf).times++ == 0) beginnings_.push_back(leaf);
        node(leaf).begins = true;
    }
    std::sort(beginnings_.begin(), beginnings_.end(), [&](std::int32_t a, std::int32_t b) {
        return std::pair(-node(a).times, a) < std::pair(-node(b).times, b);
    });
    // Children stand after their parents.
    for (std::size_t n = nodes_.size(); n-- > 0;) {
        if (nodes_[n].vertices == 0)
            nodes_[n].begins = node(nodes_[n].first_vertex).begins && node(nodes_[n].first_vertex + 1).begins;
    }
}

std::vector<OutlinePiece> SweepTree::pieces(const Pose& pose, double scale, double step, int part) const {
    if (nodes_.empty()) return {};
    const SpotView view(pose, scale);
    return Sweep(*this, view, step).pieces(part);
}

}  // namespace evenspit
