// SPDX-License-Identifier: MIT
// Arithmetic on a node's eight boxes at once, in float, for functions that are compiled EVENSPIT_WIDE. All of
// it is inlined into these, and hands rows over by reference only: the registers that would take them differ
// between processors.
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <vector>

#include "geometry/bvh_node.h"

namespace evenspit::rows {

using Floats = float __attribute__((vector_size(32), may_alias));
using Bits = std::int32_t __attribute__((vector_size(32)));
using Doubles = double __attribute__((vector_size(32), may_alias));
using Wholes = std::int64_t __attribute__((vector_size(32)));

/// What a few sums and products of float coordinates may be off by in all, m, with room to spare: 2⁻²⁰ of the
/// largest of them. A box that is asked about with so much to spare is never passed by wrongly.
inline double slack_m(const Box3& box, const Vec3& place) {
    const double furthest = std::max(box.min().cwiseAbs().maxCoeff(), box.max().cwiseAbs().maxCoeff());
    return 0x1p-20 * (furthest + place.cwiseAbs().maxCoeff());
}
/// What a float result of a few roundings keeps for sure of what it should be, as a share.
constexpr float surely = 1 - 0x1p-20F;

[[gnu::always_inline]] inline const Floats& row(const std::array<float, BvhNode::width>& of) {
    return *reinterpret_cast<const Floats*>(of.data());
}

/// The children for which a comparison held, a bit each.
[[gnu::always_inline]] inline unsigned bits(const Bits& held, const BvhNode& node) {
    Bits all = held & Bits{1, 2, 4, 8, 16, 32, 64, 128};
    all |= __builtin_shufflevector(all, all, 4, 5, 6, 7, 0, 1, 2, 3);
    all |= __builtin_shufflevector(all, all, 2, 3, 0, 1, 6, 7, 4, 5);
    return unsigned(all[0] | all[1]) & ((1U << node.children) - 1);
}

/// Children that wait to be looked at, the nearest on top.
template <std::size_t most>
class Waiting {
  public:
    struct Child {
        float measure = 0;       // lower bound of a distance or its square
        std::int32_t first = 0;  // as in a node
        std::int32_t count = 0;
    };

    /// \param root measure of the tree's first node, which no comparison passes by
    explicit Waiting(float root) { all_[0] = {root, 0, 0}; }

    [[nodiscard]] bool empty() const { return height_ == 0; }
    [[nodiscard]] Child take() { return all_[--height_]; }

    /// The children of a node whose measures lie below a bound, sorted among themselves.
    [[gnu::always_inline]] void put(const BvhNode& node, const Floats& measures, double below) {
        // What the bound loses as a float is given back: whoever takes a child compares again.
        alignas(Floats) std::array<float, BvhNode::width> each;
        std::memcpy(each.data(), &measures, sizeof measures);
        const auto rounded = float(below);
        const float limit = rounded + std::abs(rounded) * (1 - surely);
        const std::size_t bottom = height_;
        for (unsigned near = bits(measures < limit, node); near != 0; near &= near - 1) {
            const auto k = std::size_t(std::countr_zero(near));
            std::size_t place = height_++;
            for (; place > bottom && all_[place - 1].measure < each[k]; --place)
                all_[place] = all_[place - 1];
            all_[place] = {each[k], node.first[k], node.count[k]};
        }
    }

  private:
    std::array<Child, most> all_;
    std::size_t height_ = 1;
};

/// Looks through a tree, what is nearest first.
///
/// \param root measure of the tree's first node, which no comparison passes by
/// \param measures of a node's children, never more than what leaf() finds in them
/// \param bound what is not below it is passed by; it may fall as leaves are looked at
/// \param leaf called with the places of the first triangle of each leaf that is left and of what follows its
/// last
template <std::size_t most, class Measures, class Bound, class Leaf>
[[gnu::always_inline]] inline void nearest_first(const std::vector<BvhNode>& nodes, float root,
                                                 const Measures& measures, const Bound& bound,
                                                 const Leaf& leaf) {
    Waiting<most> all(root);
    while (!all.empty()) {
        const auto next = all.take();
        if (!(double(next.measure) < bound())) continue;
        if (next.count == 0) {
            const BvhNode& node = nodes[std::size_t(next.first)];
            Floats found;
            measures(node, found);
            all.put(node, found, bound());
            continue;
        }
        leaf(std::size_t(next.first), std::size_t(next.first + next.count));
    }
}

}  // namespace evenspit::rows
