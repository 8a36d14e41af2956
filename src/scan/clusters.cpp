// SPDX-License-Identifier: MIT
#include "scan/clusters.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "geometry/disjoint_sets.h"
#include "scan/points.h"
#include "scan/stoppable.h"

namespace evenspit::scan {

std::int32_t Clusters::largest() const {
    if (extents.empty()) return -1;
    return std::int32_t(std::max_element(extents.begin(), extents.end()) - extents.begin());
}

Clusters cluster(const std::vector<Vec3>& points, double cell, const StopControl& control) {
    Clusters result;
    if (points.empty()) return result;
    EveryNthCheck now_and_then(control, points_a_look);
    Box3 box;
    for (const Vec3& p : points) box.extend(p);
    constexpr std::int64_t most =
        1 << 20;  // cubes along an axis; one more bit keeps the rim free of wrapping round
    const auto key_of = [&](const Vec3& p) {
        std::int64_t key = 0;
        for (int k = 2; k >= 0; --k) {
            const double cube = std::floor((p[k] - box.min()[k]) / cell) + 1;
            key = key * (2 * most) + std::int64_t(std::clamp(cube, 1.0, double(most)));
        }
        return key;
    };
    std::vector<std::int64_t> key(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        now_and_then.step();
        key[i] = key_of(points[i]);
    }
    std::vector<std::int64_t> cubes = key;
    stoppable_sort(control, cubes);
    cubes.erase(std::unique(cubes.begin(), cubes.end()), cubes.end());

    DisjointSets sets(cubes.size());
    for (std::size_t c = 0; c < cubes.size(); ++c) {
        now_and_then.step();
        for (std::int64_t dz = -1; dz <= 0; ++dz) {
            for (std::int64_t dy = -1; dy <= (dz < 0 ? 1 : 0); ++dy) {
                // Neighbours along x have neighbouring keys; only those with smaller keys, each pair is met
                // once.
                const std::int64_t low = cubes[c] + (dz * 2 * most + dy) * 2 * most - 1;
                auto other = std::lower_bound(cubes.begin(), cubes.end(), low);
                for (; other != cubes.end() && *other <= low + 2 && *other < cubes[c]; ++other) {
                    sets.join(std::int32_t(c), std::int32_t(other - cubes.begin()));
                }
            }
        }
    }
    std::vector<std::int32_t> number(cubes.size(), -1);
    for (std::size_t c = 0; c < cubes.size(); ++c) {
        const auto r = std::size_t(sets.root(std::int32_t(c)));
        if (number[r] < 0) {
            number[r] = std::int32_t(result.extents.size());
            result.extents.push_back(0);
        }
        number[c] = number[r];
        result.extents[std::size_t(number[c])] += 1;
    }
    result.of.resize(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        now_and_then.step();
        const auto at = std::lower_bound(cubes.begin(), cubes.end(), key[i]) - cubes.begin();
        result.of[i] = number[std::size_t(at)];
    }
    return result;
}

}  // namespace evenspit::scan
