// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "roast/cell_cuts.h"

namespace evenspit {

/// Cut cells made fit for the flow of heat.
struct EdgeCells {
    /// A fuller cell inward of one that is less than half filled.
    struct Inner {
        std::int32_t cell = 0;
        float share = 0;  ///< of what comes in through the surface; they sum to 1
    };

    std::vector<float> filled;               ///< by cell, heat capacity in cubes' worth; 0 for no temperature
    std::array<std::vector<float>, 3> open;  ///< by axis: area between this cell and the next, in faces
    /// By cell: itself if its centre counts as inside; else the fuller cell most of its heat passes through;
    /// −1 where nothing is filled.
    std::vector<std::int32_t> owner;
    double lost = 0;  ///< cubes' worth of volume with nobody near to give it to

    [[nodiscard]] std::span<const Inner> inner(std::size_t cell) const {
        const std::int32_t n = edge_[cell];
        if (n < 0) return {};
        return std::span(inner_).subspan(first_inner_[std::size_t(n)],
                                         first_inner_[std::size_t(n) + 1] - first_inner_[std::size_t(n)]);
    }

    std::vector<std::int32_t> edge_;        ///< by cell, which of the edge cells it is, or −1
    std::vector<std::size_t> first_inner_;  ///< by edge cell
    std::vector<Inner> inner_;
};

/// Finds for each cell that is less than half filled, whose centre lies outside, the fuller cells inward of
/// it, in the shares in which heat that comes straight in through the surface passes through its faces and
/// on; and lends it as much heat capacity of theirs as makes it no stiffer than a whole cell, since that, not
/// its few drops of flesh, decides how long a step may be. All areas stay as they are, so that a temperature
/// that rises evenly in any direction stays as it is. Specks under a hundredth of a cube go to their most
/// open neighbour. \pre finish() was called
EdgeCells find_edge_cells(CellCuts& cuts);

}  // namespace evenspit
