// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <limits>
#include <stdexcept>
#include <utility>
#include <vector>

#include "geometry/bvh.h"
#include "units/parallel.h"
#include "units/wide.h"

namespace evenspit {

namespace {

constexpr std::size_t leaf_size = 4;
static_assert(leaf_size <= std::numeric_limits<std::uint8_t>::max(),
              "a node counts a leaf's triangles in a byte");
constexpr std::size_t most_bins = 16;
// Triangles of a branch that one thread grows by itself. Above, all threads go through a node together, in
// pieces.
constexpr std::size_t branch_size = 16384, piece = 8192;
constexpr double nowhere = std::numeric_limits<double>::infinity();

// x, y, z and one more that no box looks at. Where rows lie in memory, they are aligned for the widest
// processor that a function is compiled for: by itself GCC goes by the narrowest.
constexpr std::size_t row_alignment = 32;
using Row = double __attribute__((vector_size(4 * sizeof(double))));

// A box as two rows, its ends.
struct alignas(row_alignment) RowBox {
    Row low, high;

    void extend(const RowBox& other) {
        low = other.low < low ? other.low : low;
        high = other.high > high ? other.high : high;
    }
    [[nodiscard]] double half_surface() const {
        const Row side = high - low;
        return side[0] * side[1] + side[1] * side[2] + side[2] * side[0];
    }
    [[nodiscard]] Box3 box() const { return {Vec3(low[0], low[1], low[2]), Vec3(high[0], high[1], high[2])}; }
};

constexpr RowBox empty_box{{nowhere, nowhere, nowhere, nowhere}, {-nowhere, -nowhere, -nowhere, -nowhere}};

// A triangle's box, and its number in the row that no box looks at: one line of a processor's memory, moved
// as a whole, so that whoever goes through a node reads straight on.
struct alignas(64) Boxed {
    RowBox box;

    [[nodiscard]] std::int32_t triangle() const { return std::int32_t(box.high[3]); }
    // Twice the middle of the box, which needs no division.
    [[nodiscard]] double centre(int axis) const { return box.low[axis] + box.high[axis]; }
    void add_centre_to(RowBox& centres) const {
        const Row centre = box.low + box.high;
        centres.extend({centre, centre});
    }
};
static_assert(sizeof(Boxed) == 64);

// A stretch of the triangles, and what is known of it: the box round it and the box of its centres.
struct Stretch {
    std::size_t first = 0, count = 0;
    RowBox box = empty_box, centres = empty_box;
};

// How centres are sorted into bins along each axis.
struct Binning {
    alignas(row_alignment) Row from{};
    alignas(row_alignment) Row per_length{};
    std::size_t bins = 0;

    explicit Binning(const Stretch& stretch) : from(stretch.centres.low) {
        // The fewer there are, the sooner bins take longer than what they sort.
        bins = stretch.count <= 8 ? 4 : stretch.count <= 64 ? 8 : most_bins;
        const Row length = stretch.centres.high - stretch.centres.low;
        const double longest = std::max({length[0], length[1], length[2]});
        for (int axis = 0; axis < 3; ++axis) {
            // An axis along which the centres hardly differ has no bins to speak of.
            const double per = double(bins) / length[axis];
            if (length[axis] > 1e-9 * longest && std::isfinite(per)) per_length[axis] = per;
        }
    }
    [[nodiscard]] std::array<std::size_t, 3> bins_of(const Boxed& boxed) const {
        const Row place = (boxed.box.low + boxed.box.high - from) * per_length;
        const auto bin = [&](int axis) { return std::min(bins - 1, std::size_t(int(place[axis]))); };
        return {bin(0), bin(1), bin(2)};
    }
    [[nodiscard]] std::size_t bin_of(const Boxed& boxed, int axis) const {
        return std::min(bins - 1, std::size_t(int((boxed.centre(axis) - from[axis]) * per_length[axis])));
    }
};

// What lies in each bin of each axis.
struct Bins {
    std::array<std::array<RowBox, most_bins>, 3> boxes;
    std::array<std::array<std::uint32_t, most_bins>, 3> counts;

    // Only those that are used are made ready: small nodes are many.
    void clear(std::size_t bins) {
        for (std::size_t axis = 0; axis < 3; ++axis) {
            std::fill_n(boxes[axis].begin(), bins, empty_box);
            std::fill_n(counts[axis].begin(), bins, 0U);
        }
    }
    void add(const Bins& other, std::size_t bins) {
        for (std::size_t axis = 0; axis < 3; ++axis) {
            for (std::size_t b = 0; b < bins; ++b) {
                boxes[axis][b].extend(other.boxes[axis][b]);
                counts[axis][b] += other.counts[axis][b];
            }
        }
    }
};

EVENSPIT_WIDE void fill(Bins& bins, const Binning& by, const Boxed* boxed, std::size_t count) {
    bins.clear(by.bins);
    for (std::size_t i = 0; i < count; ++i) {
        const std::array<std::size_t, 3> bin = by.bins_of(boxed[i]);
        for (std::size_t axis = 0; axis < 3; ++axis) {
            bins.boxes[axis][bin[axis]].extend(boxed[i].box);
            ++bins.counts[axis][bin[axis]];
        }
    }
}

// The cut with the least expected cost of a query: before which bin along which axis; no axis where there is
// none.
struct Cut {
    int axis = -1;
    std::size_t bin = 0;
    RowBox below{}, above{};  // round what lies on either side
};

EVENSPIT_WIDE Cut cheapest_cut(const Bins& filled, const Binning& by, std::size_t count) {
    Cut best;
    double best_cost = nowhere;
    for (int axis = 0; axis < 3; ++axis) {
        if (!(by.per_length[axis] > 0)) continue;
        const auto& boxes = filled.boxes[std::size_t(axis)];
        const auto& counts = filled.counts[std::size_t(axis)];
        std::array<RowBox, most_bins> above;  // round bins i and after
        std::array<double, most_bins> cost_above{};
        RowBox sum = empty_box;
        std::size_t held = 0;
        for (std::size_t i = by.bins - 1; i > 0; --i) {
            sum.extend(boxes[i]);
            held += counts[i];
            above[i] = sum;
            cost_above[i] = held == 0 ? 0 : sum.half_surface() * double(held);
        }
        sum = empty_box;
        held = 0;
        for (std::size_t i = 1; i < by.bins; ++i) {
            sum.extend(boxes[i - 1]);
            held += counts[i - 1];
            if (held == 0 || held == count) continue;
            const double cost = sum.half_surface() * double(held) + cost_above[i];
            if (cost < best_cost) {
                best_cost = cost;
                best = {axis, i, sum, above[i]};
            }
        }
    }
    return best;
}

// Sorts a stretch into what lies before the cut and what does not.
EVENSPIT_WIDE void part(Boxed* boxed, std::size_t count, const Binning& by, const Cut& cut, Stretch& left,
                        Stretch& right) {
    std::size_t first = 0, last = count;
    while (first < last) {
        if (by.bin_of(boxed[first], cut.axis) < cut.bin) {
            boxed[first].add_centre_to(left.centres);
            ++first;
        } else {
            boxed[first].add_centre_to(right.centres);
            std::swap(boxed[first], boxed[--last]);
        }
    }
    left.count = first;
    right.count = count - first;
    left.box = cut.below;
    right.box = cut.above;
}

// A node of the tree as it grows, with two children: the right one follows the left.
struct Fork {
    enum class Kind { fork, leaf, branch };  // branch: grown by itself

    RowBox box = empty_box;
    std::int32_t first =
        0;  // index of the left child; of a leaf place of its first triangle; of a branch its number
    std::uint8_t count = 0;  // triangles of a leaf
    Kind kind = Kind::fork;
};

void measure(Stretch& stretch, const std::vector<Boxed>& boxed) {
    for (std::size_t i = stretch.first; i < stretch.first + stretch.count; ++i) {
        stretch.box.extend(boxed[i].box);
        boxed[i].add_centre_to(stretch.centres);
    }
}

}  // namespace

// Grows the tree from the root down: at each node the cut, among bins of centres along each axis, with the
// least expected cost of a query (surface area heuristic: I. Wald, IEEE Symp. Interactive Ray Tracing, 2007,
// pp. 33–40). The same tree for any number of threads.
struct SolidQueries::Builder {
    std::vector<Boxed> boxed;

    // A node whose children have yet to be grown.
    struct Branch {
        std::size_t node;
        Stretch stretch;
        int depth;
    };

    void build(SolidQueries& tree) {
        const std::vector<Triangle>& triangles = tree.mesh_.triangles;
        boxed.resize(triangles.size());
        Stretch all{.count = triangles.size()};
        std::vector<Stretch> pieces((triangles.size() + piece - 1) / piece);
        parallel_for(
            triangles.size(),
            [&](std::size_t from, std::size_t to) {
                for (std::size_t t = from; t < to; ++t) {
                    boxed[t].box = empty_box;
                    for (int corner = 0; corner < 3; ++corner) {
                        const Vec3& v = tree.mesh_.corner(triangles[t], corner);
                        const Row place{v.x(), v.y(), v.z(), double(t)};
                        boxed[t].box.extend({place, place});
                    }
                }
                Stretch here{from, to - from};
                measure(here, boxed);
                pieces[from / piece] = here;
            },
            piece);
        for (const Stretch& part : pieces) {
            all.box.extend(part.box);
            all.centres.extend(part.centres);
        }

        tree.box_ = all.box.box();
        if (!(tree.box_.min().minCoeff() > -BvhNode::furthest &&
              tree.box_.max().maxCoeff() < BvhNode::furthest))
            throw std::invalid_argument("SolidQueries: a corner beyond all measure");

        std::vector<Fork> top(1);
        std::vector<Branch> branches;
        grow(top, {0, all, 0}, &branches);
        tree.order_.resize(boxed.size());
        tree.corners_.resize(boxed.size());
        std::vector<std::vector<BvhNode>> grown(branches.size());
        parallel_for(
            branches.size(),
            [&](std::size_t b, std::size_t) {
                const Stretch& stretch = branches[b].stretch;
                std::vector<Fork> forks(1);
                forks.reserve(stretch.count);
                grow(forks, {0, stretch, branches[b].depth}, nullptr);
                for (std::size_t i = stretch.first; i < stretch.first + stretch.count; ++i) {
                    tree.order_[i] = boxed[i].triangle();
                    tree.corners_[i] = triangles[std::size_t(tree.order_[i])];
                }
                grown[b].reserve(forks.size() / 8);
                widen(tree, forks, 0, grown[b], {});
            },
            1);
        join(tree, top, grown);
    }

    // Puts branches under what was grown first.
    static void join(SolidQueries& tree, const std::vector<Fork>& top,
                     const std::vector<std::vector<BvhNode>>& grown) {
        std::vector<BvhNode>& nodes = tree.nodes_;
        if (top.front().kind == Fork::Kind::branch) {
            nodes = grown.front();
            return;
        }
        widen(tree, top, 0, nodes, grown);
        const std::size_t above = nodes.size();
        std::vector<std::int32_t> begins;
        std::size_t size = above;
        for (const auto& branch : grown) {
            begins.push_back(std::int32_t(size));
            size += branch.size();
        }
        // Children are told by places in their own branch so far, or by its number.
        const auto moved = [](BvhNode node, const auto& place_of) {
            for (std::size_t k = 0; k < node.children; ++k) {
                if (node.count[k] == 0) node.first[k] = place_of(node.first[k]);
            }
            return node;
        };
        for (BvhNode& node : nodes) {
            node = moved(node,
                         [&](std::int32_t child) { return child < 0 ? begins[std::size_t(~child)] : child; });
        }
        nodes.reserve(size);
        for (std::size_t b = 0; b < grown.size(); ++b) {
            std::transform(grown[b].begin(), grown[b].end(), std::back_inserter(nodes),
                           [&](const BvhNode& node) {
                               return moved(node, [&](std::int32_t child) { return begins[b] + child; });
                           });
        }
    }

    // Makes nodes of eight children from forks: of those at hand the largest that can gives way to its two,
    // as queries are the likelier to look into it (I. Wald, C. Benthin, S. Boulos, IEEE Symp. Interactive Ray
    // Tracing, 2008, pp. 49–57). Branches become children whose place is their number's complement, until
    // they are joined. Returns the node's index.
    static std::int32_t widen(const SolidQueries& tree, const std::vector<Fork>& forks, std::size_t root,
                              std::vector<BvhNode>& nodes,
                              const std::vector<std::vector<BvhNode>>& branches) {
        std::array<std::size_t, BvhNode::width> held{root};
        std::size_t count = 1;
        while (count < held.size()) {
            std::size_t largest = count;
            double most = -1;
            for (std::size_t k = 0; k < count; ++k) {
                const Fork& fork = forks[held[k]];
                const double surface = fork.box.half_surface();
                if (fork.kind == Fork::Kind::fork && surface > most) {
                    most = surface;
                    largest = k;
                }
            }
            if (largest == count) break;
            const auto left = std::size_t(forks[held[largest]].first);
            held[largest] = left;
            held[count++] = left + 1;
        }

        const std::size_t index = nodes.size();
        nodes.emplace_back();
        for (std::size_t k = 0; k < count; ++k) {
            const Fork& fork = forks[held[k]];
            bool outer = false;
            std::int32_t first = fork.first;
            switch (fork.kind) {
                case Fork::Kind::leaf:
                    for (std::int32_t i = first; i < first + fork.count; ++i)
                        outer = outer || !tree.is_inner(tree.order_[std::size_t(i)]);
                    break;
                case Fork::Kind::branch:
                    outer = branches[std::size_t(first)].front().outer != 0;
                    first = ~first;
                    break;
                case Fork::Kind::fork:
                    first = widen(tree, forks, held[k], nodes, branches);
                    outer = nodes[std::size_t(first)].outer != 0;
                    break;
            }
            nodes[index].add(fork.box.box(), first, fork.count, outer);
        }
        return std::int32_t(index);
    }

    // \param later where nodes small enough to be grown by one thread are left, with those above grown by
    // all; null to grow everything
    void grow(std::vector<Fork>& nodes, const Branch& at, std::vector<Branch>* later) {
        Fork& node = nodes[at.node];
        node.box = at.stretch.box;
        if (later && at.stretch.count <= branch_size) {
            node.first = std::int32_t(later->size());
            node.kind = Fork::Kind::branch;
            return later->push_back(at);
        }
        if (at.stretch.count <= leaf_size) {
            node.first = std::int32_t(at.stretch.first);
            node.count = std::uint8_t(at.stretch.count);
            node.kind = Fork::Kind::leaf;
            return;
        }
        const auto [left, right] = halves(at, later != nullptr);
        const std::size_t child = nodes.size();
        node.first = std::int32_t(child);
        nodes.resize(child + 2);
        grow(nodes, {child, left, at.depth + 1}, later);
        grow(nodes, {child + 1, right, at.depth + 1}, later);
    }

    // Neither of them empty.
    std::pair<Stretch, Stretch> halves(const Branch& at, bool by_all) {
        const Stretch& whole = at.stretch;
        Boxed* const begin = boxed.data() + whole.first;
        Stretch left{.first = whole.first}, right;
        Cut cut;
        if (at.depth < greedy_depth) {
            const Binning by(whole);
            cut =
                cheapest_cut(by_all ? filled_by_all(by, begin, whole.count) : filled(by, begin, whole.count),
                             by, whole.count);
            if (cut.axis >= 0) part(begin, whole.count, by, cut, left, right);
        }
        right.first = whole.first + left.count;
        if (cut.axis >= 0) return {left, right};

        left.count = whole.count / 2;
        right.count = whole.count - left.count;
        right.first = whole.first + left.count;
        halve(begin, whole, left.count);
        measure(left, boxed);
        measure(right, boxed);
        return {left, right};
    }

    // Sorts a stretch so that no centre of its first half lies further along its longest side than one of the
    // rest.
    static void halve(Boxed* begin, const Stretch& whole, std::size_t half) {
        int axis = 0;
        whole.centres.box().sizes().maxCoeff(&axis);
        std::vector<std::pair<double, std::int32_t>> places(whole.count);
        for (std::size_t i = 0; i < whole.count; ++i) places[i] = {begin[i].centre(axis), std::int32_t(i)};
        std::nth_element(places.begin(), places.begin() + std::ptrdiff_t(half), places.end());
        std::vector<Boxed> sorted(whole.count);
        for (std::size_t i = 0; i < whole.count; ++i) sorted[i] = begin[places[i].second];
        std::copy(sorted.begin(), sorted.end(), begin);
    }

    static Bins filled(const Binning& by, const Boxed* begin, std::size_t count) {
        Bins bins;
        fill(bins, by, begin, count);
        return bins;
    }

    static Bins filled_by_all(const Binning& by, const Boxed* begin, std::size_t count) {
        std::vector<Bins> pieces((count + piece - 1) / piece);
        parallel_for(
            count,
            [&](std::size_t from, std::size_t to) {
                fill(pieces[from / piece], by, begin + from, to - from);
            },
            piece);
        for (std::size_t p = 1; p < pieces.size(); ++p) pieces[0].add(pieces[p], by.bins);
        return pieces[0];
    }
};

SolidQueries::SolidQueries(TriangleMesh mesh, std::vector<bool> inner)
    : mesh_(std::move(mesh)), inner_(std::move(inner)) {
    if (mesh_.triangles.empty()) throw std::invalid_argument("SolidQueries: a mesh without triangles");
    Builder().build(*this);
}

}  // namespace evenspit
