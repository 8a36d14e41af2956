// SPDX-License-Identifier: MIT
#include "roast/cell_depths.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace evenspit {
namespace {

constexpr float unknown = std::numeric_limits<float>::infinity();

/// The depth, in cells, that goes with the least ones beside it along each axis.
float depth_beside(std::array<float, 3> least) {
    std::sort(least.begin(), least.end());
    const auto [a, b, c] = least;
    if (!(b < a + 1)) return a + 1;
    const float two = (a + b + std::sqrt(2 - (a - b) * (a - b))) / 2;
    if (!(c < two)) return two;
    const float sum = a + b + c;
    return (sum + std::sqrt(sum * sum - 3 * (a * a + b * b + c * c - 1))) / 3;
}

class Sweep {
  public:
    explicit Sweep(const HeatGrid& grid) : grid_(grid), depth_(grid.box.size(), unknown) {
        const auto spacing = static_cast<float>(grid.box.spacing_m);
        for (const SurfaceSpot& spot : grid.spots) {
            float& under = depth_[std::size_t(spot.under)];
            under = std::min(under, spot.depth_m / spacing);
        }
        for (int axis = 0; axis < 3; ++axis) stride_[std::size_t(axis)] = grid.box.stride(axis);
    }

    /// Once through all cells, each axis up or down. \returns whether anything changed
    bool go(int direction) {
        bool changed = false;
        const auto& [nx, ny, nz] = grid_.box.count;
        for (std::int32_t n = 0; n < nz; ++n) {
            const std::int32_t k = direction & 4 ? nz - 1 - n : n;
            for (std::int32_t m = 0; m < ny; ++m) {
                const std::int32_t j = direction & 2 ? ny - 1 - m : m;
                const auto [first, last] = grid_.rows[std::size_t(j) + std::size_t(ny) * std::size_t(k)];
                for (std::int32_t l = first; l < last; ++l)
                    changed |= look(grid_.box.index(direction & 1 ? first + last - 1 - l : l, j, k));
            }
        }
        return changed;
    }

    [[nodiscard]] std::vector<float> depths_m() && {
        const auto spacing = static_cast<float>(grid_.box.spacing_m);
        for (float& depth : depth_) depth = depth < unknown ? depth * spacing : 0;
        return std::move(depth_);
    }

  private:
    bool look(std::size_t cell) {
        if (!grid_.is_inside(cell)) return false;
        std::array<float, 3> least{};
        for (std::size_t axis = 0; axis < 3; ++axis)
            least[axis] = std::min(depth_[cell - stride_[axis]], depth_[cell + stride_[axis]]);
        const float found = depth_beside(least);
        constexpr float enough = 1e-4f;  // of a cell
        if (!(found < depth_[cell] - enough)) return false;
        depth_[cell] = found;
        return true;
    }

    const HeatGrid& grid_;
    std::vector<float> depth_;  // in cells
    std::array<std::size_t, 3> stride_{};
};

}  // namespace

std::vector<float> cell_depths_m(const HeatGrid& grid) {
    constexpr int directions = 8;
    Sweep sweep(grid);
    for (int quiet = 0, n = 0; quiet < directions; ++n) quiet = sweep.go(n % directions) ? 0 : quiet + 1;
    return std::move(sweep).depths_m();
}

}  // namespace evenspit
