// SPDX-License-Identifier: MIT
#include "roast/heat_cells.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace evenspit {
namespace {

/// Of a cube's side: rounding.
constexpr double nearly = 1e-9;

}  // namespace

std::optional<double> HeatCells::at(const Vec3& place) const {
    if (temperature_k.empty()) return std::nullopt;
    std::array<std::size_t, 3> low{};
    std::array<double, 3> share{};
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const auto i = static_cast<Eigen::Index>(axis);
        const double along = (place[i] - origin[i]) / spacing_m;
        const auto last = double(count[axis] - 1);
        if (!(along >= -nearly) || along > last + nearly) return std::nullopt;
        low[axis] = std::min(static_cast<std::size_t>(std::max(along, 0.0)),
                             count[axis] - std::min<std::size_t>(count[axis], 2));
        share[axis] = along - double(low[axis]);
    }
    double sum = 0;
    for (std::size_t corner = 0; corner < 8; ++corner) {
        double weight = 1;
        std::array<std::size_t, 3> cube{};
        for (std::size_t axis = 0; axis < 3; ++axis) {
            const bool high = ((corner >> axis) & 1U) != 0;
            weight *= high ? share[axis] : 1 - share[axis];
            cube[axis] = std::min(low[axis] + (high ? 1 : 0), count[axis] - 1);
        }
        if (weight < nearly) continue;
        sum += weight * double(temperature_k[(cube[2] * count[1] + cube[1]) * count[0] + cube[0]]);
    }
    return std::isfinite(sum) ? std::optional(sum) : std::nullopt;
}

void HeatCells::grow() {
    const std::vector<float> before = temperature_k;
    const auto neighbours = [](std::size_t place, std::size_t most) {
        return std::pair(place == 0 ? 0 : place - 1, std::min(place + 1, most - 1));
    };
    std::size_t here = 0;
    for (std::size_t z = 0; z < count[2]; ++z) {
        for (std::size_t y = 0; y < count[1]; ++y) {
            for (std::size_t x = 0; x < count[0]; ++x, ++here) {
                if (std::isfinite(before[here])) continue;
                float sum = 0;
                int known = 0;
                const auto [x0, x1] = neighbours(x, count[0]);
                const auto [y0, y1] = neighbours(y, count[1]);
                const auto [z0, z1] = neighbours(z, count[2]);
                for (std::size_t k = z0; k <= z1; ++k) {
                    for (std::size_t j = y0; j <= y1; ++j) {
                        for (std::size_t i = x0; i <= x1; ++i) {
                            const float value = before[(k * count[1] + j) * count[0] + i];
                            if (!std::isfinite(value)) continue;
                            sum += value;
                            ++known;
                        }
                    }
                }
                if (known > 0) temperature_k[here] = sum / static_cast<float>(known);
            }
        }
    }
}

}  // namespace evenspit
