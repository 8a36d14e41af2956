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

        std::vector<Branch> branches;
        tree.nodes_.resize(1);
        grow(tree.nodes_, {0, all, 0}, &branches);
        std::vector<std::vector<Node>> grown(branches.size());
        parallel_for(
            branches.size(),
            [&](std::size_t b, std::size_t) {
                grown[b].reserve(branches[b].stretch.count);
                grown[b].resize(1);
                grow(grown[b], {0, branches[b].stretch, branches[b].depth}, nullptr);
            },
            1);
        join(tree.nodes_, branches, grown);
        tree.order_.resize(boxed.size());
        std::transform(boxed.begin(), boxed.end(), tree.order_.begin(),
                       [](const Boxed& b) { return b.triangle(); });
    }

    // Puts branches grown by themselves where they belong.
    static void join(std::vector<Node>& nodes, const std::vector<Branch>& branches,
                     const std::vector<std::vector<Node>>& grown) {
        std::size_t size = nodes.size();
        for (const auto& branch : grown) size += branch.size() - 1;
        nodes.reserve(size);
        for (std::size_t b = 0; b < branches.size(); ++b) {
            // What stood at 1 there stands at the end here.
            const auto moved = [shift = std::int32_t(nodes.size()) - 1](Node node) {
                if (node.count == 0) node.first += shift;
                return node;
            };
            nodes[branches[b].node] = moved(grown[b].front());
            std::transform(grown[b].begin() + 1, grown[b].end(), std::back_inserter(nodes), moved);
        }
    }

    // \param later where nodes small enough to be grown by one thread are left, with those above grown by
    // all; null to grow everything
    void grow(std::vector<Node>& nodes, const Branch& at, std::vector<Branch>* later) {
        Node& node = nodes[at.node];
        node.box = at.stretch.box.box();
        if (at.stretch.count <= leaf_size) {
            node.first = std::int32_t(at.stretch.first);
            node.count = std::int32_t(at.stretch.count);
            return;
        }
        if (later && at.stretch.count <= branch_size) return later->push_back(at);
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
    // Children stand after their parents.
    for (std::size_t n = nodes_.size(); n-- > 0;) {
        Node& node = nodes_[n];
        const auto first = std::size_t(node.first);
        if (node.count == 0) node.outer = nodes_[first].outer || nodes_[first + 1].outer;
        for (std::int32_t i = node.first; i < node.first + node.count; ++i)
            node.outer = node.outer || !is_inner(order_[std::size_t(i)]);
    }
}

}  // namespace evenspit
