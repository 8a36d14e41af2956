// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "geometry/types.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// Points sorted into cubes, for questions about all that lies near a place (for the nearest see nearest.h).
/// Keeps its own copy of the points.
class NeighbourGrid {
  public:
    /// \param cell side of the cubes, m, > 0: best about the radius that will be asked for
    NeighbourGrid(const std::vector<Vec3>& points, double cell, const StopControl& control = {});

    [[nodiscard]] std::size_t size() const { return points_.size(); }

    /// Calls visit(index, square of the distance) for every point within `radius` of `place`; order is fixed
    /// but has no meaning.
    template <class Visit>
    void for_each_within(const Vec3& place, double radius, Visit&& visit) const {
        if (points_.empty()) return;
        const double square = radius * radius;
        std::int64_t low[3], high[3];
        for (int k = 0; k < 3; ++k) {
            low[k] = clamped((place[k] - radius - min_[k]) / cell_, k);
            high[k] = clamped((place[k] + radius - min_[k]) / cell_, k);
        }
        for (std::int64_t z = low[2]; z <= high[2]; ++z) {
            for (std::int64_t y = low[1]; y <= high[1]; ++y) {
                // Cubes that follow each other along x follow each other in memory.
                const std::int64_t row = (z * count_[1] + y) * count_[0];
                auto key = std::lower_bound(keys_.begin(), keys_.end(), row + low[0]);
                for (; key != keys_.end() && *key <= row + high[0]; ++key) {
                    const auto cube = std::size_t(key - keys_.begin());
                    for (std::size_t i = begin_[cube]; i < begin_[cube + 1]; ++i) {
                        const double distance = (points_[i] - place).squaredNorm();
                        if (distance <= square) visit(std::size_t(order_[i]), distance);
                    }
                }
            }
        }
    }

    /// Number of points within `radius`.
    [[nodiscard]] std::size_t count_within(const Vec3& place, double radius) const;

  private:
    [[nodiscard]] std::int64_t clamped(double coordinate, int axis) const {
        return std::int64_t(std::clamp(std::floor(coordinate), 0.0, double(count_[axis] - 1)));
    }

    double cell_;
    Vec3 min_ = Vec3::Zero();
    std::int64_t count_[3] = {1, 1, 1};  // cubes along x, y, z
    std::vector<std::int64_t> keys_;     // of the cubes that hold anything, ascending
    std::vector<std::size_t> begin_;     // per cube, where its points begin; one more at the end
    std::vector<Vec3> points_;           // by cube
    std::vector<std::int32_t> order_;    // what each was called by the caller
};

}  // namespace evenspit::scan
