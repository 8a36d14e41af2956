// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numeric>
#include <span>
#include <stdexcept>
#include <tuple>
#include <utility>
#include <vector>

#include "geometry/sweep_tree.h"
#include "units/parallel.h"

namespace evenspit {

namespace {

constexpr std::size_t swept_together = 96;  // triangles of a leaf
constexpr std::size_t nearly_flat = 1000;   // triangles; of more a plane says little that their box does not
// What one thread grows by itself: so many triangles at least, and a share of all, as each such branch takes
// a table of all vertices.
constexpr std::size_t least_branch = 8192, most_branches = 16;

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

// A triangle by its middle, as what is sorted should lie in one place. The tree hangs on it, the outline does
// not: a float will do.
struct alignas(16) Placed {
    std::array<float, 3> at;
    std::int32_t triangle;
};

// Ends of a box, and one more number that none looks at.
using Row = float __attribute__((vector_size(16), may_alias));

// Puts first those that lie before, along the axis along which they differ most: about half, where a cut
// between bins of one width makes it so. Tells how many these are; never none or all.
std::size_t halve(std::span<Placed> placed) {
    constexpr int bins = 64;
    constexpr float nowhere = std::numeric_limits<float>::infinity();
    Row low{nowhere, nowhere, nowhere, nowhere}, high = -low;
    for (const Placed& one : placed) {
        const Row& at = reinterpret_cast<const Row&>(one);
        low = at < low ? at : low;
        high = at > high ? at : high;
    }
    const Row size = high - low;
    const std::size_t axis = size[0] >= size[1] && size[0] >= size[2] ? 0 : size[1] >= size[2] ? 1 : 2;
    const float from = low[axis], per_length = bins / size[axis];
    const std::size_t half = placed.size() / 2;
    if (per_length > 0 && per_length < nowhere) {
        const auto bin = [=](const Placed& one) {
            return std::min(bins - 1, static_cast<int>((one.at[axis] - from) * per_length));
        };
        std::array<std::size_t, bins> counts{};
        for (const Placed& one : placed) ++counts[static_cast<std::size_t>(bin(one))];
        std::size_t before = counts[0];
        int cut = 1;
        while (before + counts[static_cast<std::size_t>(cut)] <= half)
            before += counts[static_cast<std::size_t>(cut++)];
        const std::size_t with = before + counts[static_cast<std::size_t>(cut)];
        if (with - half < half - std::min(half, before)) {
            before = with;
            ++cut;
        }
        if (before >= placed.size() / 4 && before <= placed.size() - placed.size() / 4) {
            // No branch that hangs on the outcome: it is not foretold.
            std::size_t first = 0;
            for (std::size_t i = 0; i < placed.size(); ++i) {
                const Placed one = placed[i];
                placed[i] = placed[first];
                placed[first] = one;
                first += bin(one) < cut ? 1 : 0;
            }
            return first;
        }
    }
    std::nth_element(placed.begin(), placed.begin() + static_cast<std::ptrdiff_t>(half), placed.end(),
                     [axis](const Placed& a, const Placed& b) { return a.at[axis] < b.at[axis]; });
    return half;
}

}  // namespace

// Halves the triangles by their middles. An edge between two triangles belongs to one of them only.
struct SweepTree::Builder {
    SweepTree& tree;
    const TriangleMesh& mesh;
    Twins twins{mesh};
    std::vector<Placed> placed{};

    struct Branch {
        std::size_t node;  // of the whole tree
        std::span<Placed> triangles;
        SweepTree grown{};  // of these alone
    };
    class Grower;

    void build() {
        if (mesh.triangles.empty()) return;
        placed.resize(mesh.triangles.size());
        parallel_for(
            placed.size(),
            [&](std::size_t first, std::size_t last) {
                for (std::size_t t = first; t < last; ++t) {
                    const Triangle& corners = mesh.triangles[t];
                    const Vec3 sum =
                        mesh.corner(corners, 0) + mesh.corner(corners, 1) + mesh.corner(corners, 2);
                    if (!sum.allFinite())
                        throw std::invalid_argument("SweepTree: a coordinate of a mesh is not finite");
                    const Eigen::Vector3f at = sum.cast<float>();
                    placed[t] = {{at[0], at[1], at[2]}, static_cast<std::int32_t>(t)};
                }
            },
            least_branch);
        tree.nodes_.emplace_back();
        std::vector<Branch> branches = part();
        const std::size_t above = tree.nodes_.size();
        grow(branches);
        join(branches);
        for (std::size_t node = above; node-- > 0;) {
            Node& parent = tree.nodes_[node];
            if (parent.vertices > 0) continue;
            const auto left = static_cast<std::size_t>(parent.first_vertex);
            if (left < above) close(parent, tree.nodes_[left], tree.nodes_[left + 1]);
        }
        find_usual_edge();
    }

    // Halves until every part is a branch: above the branches stand nodes without a box.
    std::vector<Branch> part() {
        const std::size_t most = std::max(least_branch, placed.size() / most_branches);
        std::vector<Branch> level, branches;
        level.push_back({0, placed});
        while (!level.empty()) {
            std::vector<std::size_t> halves(level.size(), 0);
            parallel_for(
                level.size(),
                [&](std::size_t k, std::size_t) {
                    if (level[k].triangles.size() > most) halves[k] = halve(level[k].triangles);
                },
                1);
            std::vector<Branch> next;
            for (std::size_t k = 0; k < level.size(); ++k) {
                if (halves[k] == 0) {
                    branches.push_back(std::move(level[k]));
                    continue;
                }
                const std::size_t left = tree.nodes_.size();
                tree.nodes_[level[k].node].first_vertex = static_cast<std::int32_t>(left);
                tree.nodes_.resize(left + 2);
                next.push_back({left, level[k].triangles.first(halves[k])});
                next.push_back({left + 1, level[k].triangles.subspan(halves[k])});
            }
            level = std::move(next);
        }
        return branches;
    }

    void grow(std::vector<Branch>& branches) const;

    void join(std::vector<Branch>& branches) const {
        if (branches.size() == 1) {
            tree = std::move(branches.front().grown);
            return;
        }
        struct Begin {
            std::size_t node, vertex, edge;
        };
        std::vector<Begin> begins{{tree.nodes_.size(), 0, 0}};
        for (const Branch& branch : branches) {
            const auto& [node, vertex, edge] = begins.back();
            // Its root has a place already.
            begins.push_back({node + branch.grown.nodes_.size() - 1, vertex + branch.grown.vertices_.size(),
                              edge + branch.grown.edges_.size()});
        }
        tree.nodes_.resize(begins.back().node);
        tree.vertices_.resize(begins.back().vertex);
        tree.edges_.resize(begins.back().edge);
        parallel_for(
            branches.size(),
            [&](std::size_t b, std::size_t) {
                const SweepTree& grown = branches[b].grown;
                const Begin& begin = begins[b];
                for (std::size_t n = 0; n < grown.nodes_.size(); ++n) {
                    Node node = grown.nodes_[n];
                    node.first_vertex +=
                        static_cast<std::int32_t>(node.vertices > 0 ? begin.vertex : begin.node - 1);
                    node.first_edge += static_cast<std::int32_t>(begin.edge);
                    tree.nodes_[n == 0 ? branches[b].node : begin.node + n - 1] = node;
                }
                std::copy(grown.vertices_.begin(), grown.vertices_.end(),
                          tree.vertices_.begin() + static_cast<std::ptrdiff_t>(begin.vertex));
                std::copy(grown.edges_.begin(), grown.edges_.end(),
                          tree.edges_.begin() + static_cast<std::ptrdiff_t>(begin.edge));
            },
            1);
        for (std::size_t b = 0; b < branches.size(); ++b) {
            for (const std::int32_t leaf : branches[b].grown.leaves_) {
                tree.leaves_.push_back(static_cast<std::int32_t>(
                    leaf == 0 ? branches[b].node : begins[b].node + static_cast<std::size_t>(leaf) - 1));
            }
        }
    }

    static void close(Node& parent, const Node& a, const Node& b) {
        const Box3 box =
            Box3(a.middle - a.half, a.middle + a.half).merged(Box3(b.middle - b.half, b.middle + b.half));
        parent.middle = box.center();
        parent.half = box.sizes() / 2;
    }

    void find_usual_edge() const {
        std::vector<double> longest;
        for (const std::int32_t leaf : tree.leaves_)
            longest.push_back(tree.nodes_[static_cast<std::size_t>(leaf)].longest);
        constexpr double usual_share = 0.99;
        const auto usual = longest.begin() +
                           static_cast<std::ptrdiff_t>(usual_share * static_cast<double>(longest.size() - 1));
        std::nth_element(longest.begin(), usual, longest.end());
        tree.usual_edge_ = *usual;
    }
};

// Grows one branch.
class SweepTree::Builder::Grower {
  public:
    Grower(const Builder& builder, SweepTree& tree, std::size_t triangles)
        : mesh_(builder.mesh), twins_(builder.twins), tree_(tree), places_(mesh_.vertices.size(), -1) {
        tree_.nodes_.reserve(triangles / (swept_together / 4));
        tree_.vertices_.reserve(triangles * 3 / 4);
        tree_.edges_.reserve(triangles * 3 / 2);
        tree_.nodes_.emplace_back();
    }

    struct Extent {
        Box3 box;
        Vec3 across = Vec3::Zero();  // the sum of the triangles' normals, each twice as long as its area
    };

    Extent grow(std::size_t node, std::span<Placed> triangles) {
        const std::size_t first = tree_.vertices_.size();
        Extent extent;
        if (triangles.size() <= swept_together) {
            extent = fill_leaf(tree_.nodes_[node], triangles);
            tree_.leaves_.push_back(static_cast<std::int32_t>(node));
        } else {
            const std::size_t half = halve(triangles);
            const std::size_t left = tree_.nodes_.size();
            tree_.nodes_[node].first_vertex = static_cast<std::int32_t>(left);
            tree_.nodes_.resize(left + 2);
            extent = grow(left, triangles.first(half));
            const Extent right = grow(left + 1, triangles.subspan(half));
            extent.box.extend(right.box);
            extent.across += right.across;
        }
        tree_.nodes_[node].middle = extent.box.center();
        tree_.nodes_[node].half = extent.box.sizes() / 2;
        if (triangles.size() <= nearly_flat) lay_plane(tree_.nodes_[node], extent.across, first);
        return extent;
    }

  private:
    // \param first of its vertices; the last is the last there is
    void lay_plane(Node& node, const Vec3& across, std::size_t first) const {
        if (!(across.squaredNorm() > 0)) return;
        node.normal = across.normalized();
        node.above = -std::numeric_limits<double>::infinity();
        for (std::size_t v = first; v < tree_.vertices_.size(); ++v)
            node.above = std::max(node.above, node.normal.dot(tree_.vertices_[v] - node.middle));
    }

    [[nodiscard]] std::int32_t& place(std::int32_t name) { return places_[static_cast<std::size_t>(name)]; }

    Extent fill_leaf(Node& leaf, std::span<const Placed> triangles) {
        Extent extent;
        ends_.clear();
        names_.clear();
        for (const Placed& one : triangles) {
            const Triangle& triangle = mesh_.triangles[static_cast<std::size_t>(one.triangle)];
            const Vec3& corner = mesh_.corner(triangle, 0);
            extent.across += (mesh_.corner(triangle, 1) - corner).cross(mesh_.corner(triangle, 2) - corner);
            for (std::size_t k = 0; k < 3; ++k) {
                const std::int32_t a = triangle[k], b = triangle[(k + 1) % 3];
                if (a > b && twins_.has(b, a)) continue;
                ends_.emplace_back(a, b);
                for (const std::int32_t name : {a, b}) {
                    if (std::exchange(place(name), 0) < 0) names_.push_back(name);
                }
            }
        }
        // In order: many meshes have beside each other what lies so, and the branches of a sweep are
        // foretold.
        std::sort(names_.begin(), names_.end());
        leaf.first_vertex = static_cast<std::int32_t>(tree_.vertices_.size());
        leaf.vertices = static_cast<std::int32_t>(names_.size());
        for (std::size_t n = 0; n < names_.size(); ++n) {
            place(names_[n]) = static_cast<std::int32_t>(n);
            tree_.vertices_.push_back(mesh_.vertices[static_cast<std::size_t>(names_[n])]);
            extent.box.extend(tree_.vertices_.back());
        }
        lay_edges(leaf);
        for (const std::int32_t name : names_) place(name) = -1;
        return extent;
    }

    void lay_edges(Node& leaf) {
        const Vec3* const vertices = tree_.vertices_.data() + leaf.first_vertex;
        double longest = 0;
        // Sorted by where they begin; filling moves each start on to the next.
        starts_.assign(names_.size() + 1, 0);
        for (auto& [a, b] : ends_) {
            a = place(a);
            b = place(b);
            longest = std::max(longest, (vertices[a] - vertices[b]).squaredNorm());
            // In order along the mesh, which is much as along the rod.
            const bool turned = vertices[b].x() < vertices[a].x();
            std::tie(a, b) = std::pair(turned ? b : a, turned ? a : b);
            ++starts_[static_cast<std::size_t>(a) + 1];
        }
        leaf.longest = std::sqrt(longest);
        std::partial_sum(starts_.begin(), starts_.end(), starts_.begin());
        leaf.first_edge = static_cast<std::int32_t>(tree_.edges_.size());
        leaf.edges = static_cast<std::int32_t>(ends_.size());
        tree_.edges_.resize(tree_.edges_.size() + ends_.size());
        auto* const edges = tree_.edges_.data() + leaf.first_edge;
        for (const auto& [a, b] : ends_) {
            edges[starts_[static_cast<std::size_t>(a)]++] = {static_cast<std::uint16_t>(a),
                                                             static_cast<std::uint16_t>(b)};
        }
    }

    const TriangleMesh& mesh_;
    const Twins& twins_;
    SweepTree& tree_;
    std::vector<std::int32_t> places_;  // by vertex, among the names of a leaf's; −1: not there
    // Of the leaf at hand: its edges by the names of their ends, then by their places; the names; how many
    // edges begin before each.
    std::vector<std::pair<std::int32_t, std::int32_t>> ends_;
    std::vector<std::int32_t> names_;
    std::vector<std::uint32_t> starts_;
};

void SweepTree::Builder::grow(std::vector<Branch>& branches) const {
    parallel_for(
        branches.size(),
        [&](std::size_t b, std::size_t) {
            Branch& branch = branches[b];
            Grower(*this, branch.grown, branch.triangles.size()).grow(0, branch.triangles);
        },
        1);
}

SweepTree::SweepTree(const TriangleMesh& mesh) {
    Builder{*this, mesh}.build();
}

}  // namespace evenspit
