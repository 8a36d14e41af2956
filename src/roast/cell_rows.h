// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>

#include "roast/heat_grid.h"
#include "units/parallel.h"

namespace evenspit {

/// Calls work(first, past) for what carries a temperature of each row of a plane across z, from its first
/// such cell to its last; between them there may be some that carry none.
template <class Work>
void for_rows(const HeatGrid& grid, std::size_t plane, const Work& work) {
    const auto length = static_cast<std::size_t>(grid.box.count[0]);
    const auto rows = static_cast<std::size_t>(grid.box.count[1]);
    for (std::size_t row = plane * rows; row < (plane + 1) * rows; ++row) {
        const auto [first, past] = grid.rows[row];
        if (first < past) work(row * length + std::size_t(first), row * length + std::size_t(past));
    }
}

/// Calls work(plane) for each plane across z, on several threads.
template <class Work>
void for_planes(const HeatGrid& grid, const Work& work) {
    constexpr std::size_t planes_a_piece = 4;
    parallel_for(
        std::size_t(grid.box.count[2]),
        [&](std::size_t begin, std::size_t end) {
            for (std::size_t plane = begin; plane < end; ++plane) work(plane);
        },
        planes_a_piece);
}

}  // namespace evenspit
