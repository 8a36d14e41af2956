// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>

#include "geometry/types.h"

namespace evenspit {

/// A node of SolidQueries' tree: up to eight children, whose boxes stand side by side so that a processor
/// looks at all of them at once.
///
/// Ends of boxes are floats, rounded outward: a box holds all corners of its triangles, which are double, and
/// nothing but time is lost by the little that it is too large. Half of the memory that doubles take.
struct alignas(64) BvhNode {
    static constexpr std::size_t width = 8;
    /// Coordinates whose squares floats can hold with room to spare, m.
    static constexpr double furthest = 1e15;

    alignas(32) std::array<std::array<float, width>, 3> low{}, high{};  ///< by axis and child
    std::array<std::int32_t, width> first{};  ///< of a leaf its first triangle's place, else the child's node
    std::array<std::uint8_t, width> count{};  ///< triangles of a leaf, 0 for a node
    std::uint8_t children = 0;
    std::uint8_t outer = 0;  ///< children that hold a triangle that is not an inner one, a bit each

    [[nodiscard]] bool has_outer(std::size_t child) const { return (outer >> child & 1U) != 0; }

    [[nodiscard]] Box3 box(std::size_t child) const {
        return {Vec3(low[0][child], low[1][child], low[2][child]),
                Vec3(high[0][child], high[1][child], high[2][child])};
    }

    void add(const Box3& box, std::int32_t first_of_it, std::uint8_t count_of_it, bool outer_of_it) {
        for (std::size_t axis = 0; axis < 3; ++axis) {
            low[axis][children] = below(box.min()[Eigen::Index(axis)]);
            high[axis][children] = -below(-box.max()[Eigen::Index(axis)]);
        }
        first[children] = first_of_it;
        count[children] = count_of_it;
        outer |= std::uint8_t(outer_of_it ? 1U << children : 0U);
        ++children;
    }

  private:
    // A float no greater than x: it is lowered by more than rounding to the nearest may raise it.
    static float below(double x) {
        constexpr double share = 0x1p-23, least = 0x1p-140;
        return float(x - std::abs(x) * share - least);
    }
};
static_assert(sizeof(BvhNode) == 256);

}  // namespace evenspit
