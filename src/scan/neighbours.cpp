// SPDX-License-Identifier: MIT
#include "scan/neighbours.h"

#include <stdexcept>
#include <utility>

#include "scan/points.h"
#include "scan/stoppable.h"

namespace evenspit::scan {

NeighbourGrid::NeighbourGrid(const std::vector<Vec3>& points, double cell, const StopControl& control)
    : cell_(cell) {
    if (!(cell > 0)) throw std::invalid_argument("NeighbourGrid: the cell must be larger than zero");
    begin_.push_back(0);
    if (points.empty()) return;
    control.check();
    Box3 box;
    for (const Vec3& p : points) box.extend(p);
    min_ = box.min();
    for (int k = 0; k < 3; ++k) {
        // A lone point far away must not make the keys overflow: then cubes are cut off and their rows share
        // a key, which costs time but no truth.
        const double cubes = std::floor(box.sizes()[k] / cell) + 1;
        count_[k] = std::int64_t(std::min(cubes, 1048576.0));
    }
    std::vector<std::pair<std::int64_t, std::int32_t>> sorted(points.size());
    EveryNthCheck now_and_then(control, points_a_look);
    for (std::size_t i = 0; i < points.size(); ++i) {
        now_and_then.step();
        std::int64_t at[3];
        for (int k = 0; k < 3; ++k) at[k] = clamped((points[i][k] - min_[k]) / cell, k);
        sorted[i] = {(at[2] * count_[1] + at[1]) * count_[0] + at[0], std::int32_t(i)};
    }
    stoppable_sort(control, sorted);
    control.check();
    points_.reserve(points.size());
    order_.reserve(points.size());
    begin_.clear();
    for (std::size_t i = 0; i < sorted.size(); ++i) {
        now_and_then.step();
        if (i == 0 || sorted[i].first != sorted[i - 1].first) {
            keys_.push_back(sorted[i].first);
            begin_.push_back(i);
        }
        points_.push_back(points[std::size_t(sorted[i].second)]);
        order_.push_back(sorted[i].second);
    }
    begin_.push_back(sorted.size());
}

std::size_t NeighbourGrid::count_within(const Vec3& place, double radius) const {
    std::size_t count = 0;
    for_each_within(place, radius, [&](std::size_t, double) { ++count; });
    return count;
}

}  // namespace evenspit::scan
