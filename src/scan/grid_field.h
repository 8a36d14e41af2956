// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "geometry/types.h"

namespace evenspit::scan {

/// Numbers on the nodes of a regular grid, with a frame of zeros round it.
///
/// Node (i, j, k), 0 ≤ i < n[0] …, lies at origin + spacing·(i, j, k). Single precision: a field is a tool,
/// no result.
struct GridField {
    Vec3 origin = Vec3::Zero();  ///< m
    double spacing = 1;          ///< m
    std::array<int, 3> n{};
    std::vector<float> values;  ///< (n0 + 2)(n1 + 2)(n2 + 2); the outermost layer stays 0

    GridField() = default;
    GridField(const Vec3& first_node, double side, const std::array<int, 3>& nodes)
        : origin(first_node),
          spacing(side),
          n(nodes),
          values(std::size_t(nodes[0] + 2) * std::size_t(nodes[1] + 2) * std::size_t(nodes[2] + 2), 0.0F) {}

    [[nodiscard]] std::ptrdiff_t row() const { return n[0] + 2; }
    [[nodiscard]] std::ptrdiff_t layer() const { return row() * (n[1] + 2); }
    [[nodiscard]] std::size_t index(int i, int j, int k) const {
        return std::size_t(i + 1) + std::size_t(j + 1) * std::size_t(row()) +
               std::size_t(k + 1) * std::size_t(layer());
    }
    [[nodiscard]] float at(int i, int j, int k) const { return values[index(i, j, k)]; }
    [[nodiscard]] Vec3 position(int i, int j, int k) const { return origin + spacing * Vec3(i, j, k); }

    /// The cell that holds a place and how far into it the place lies. \pre at least one node away from the
    /// grid's outside
    struct Cell {
        std::size_t index;  ///< of its lowest node
        Vec3 inside;        ///< 0 … 1 along each axis
    };
    [[nodiscard]] Cell cell_of(const Vec3& place) const;
    /// Linear between the eight nodes around. \pre as for cell_of()
    [[nodiscard]] double interpolated(const Vec3& place) const;
    [[nodiscard]] Vec3 gradient(const Vec3& place) const;
};

}  // namespace evenspit::scan
