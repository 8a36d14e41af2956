// SPDX-License-Identifier: MIT
// What several benchmarks take and measure alike.
#pragma once

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>
#include <utility>
#include <vector>

#include "geometry/shapes.h"

namespace evenspit::bench {

/// The least of a few times, in seconds: what the machine takes when nobody is in the way.
template <class Work>
double seconds(Work&& work, int times = 5) {
    double least = std::numeric_limits<double>::infinity();
    for (int i = 0; i < times; ++i) {
        const auto start = std::chrono::steady_clock::now();
        work();
        least =
            std::min(least, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
    }
    return least;
}

/// A body with folds of about n triangles.
inline TriangleMesh folded_body(std::int64_t n) {
    const auto side = int(std::sqrt(double(n) / 2));
    return test::wavy_mesh(side, side);
}

/// The same body with its corners and its triangles in no order, as a scan's are.
inline TriangleMesh shuffled(TriangleMesh mesh) {
    std::mt19937 random{1};
    std::vector<std::int32_t> place(mesh.vertices.size());
    for (std::size_t i = 0; i < place.size(); ++i) place[i] = std::int32_t(i);
    std::shuffle(place.begin(), place.end(), random);
    TriangleMesh other = mesh;
    for (std::size_t i = 0; i < place.size(); ++i) other.vertices[std::size_t(place[i])] = mesh.vertices[i];
    for (Triangle& triangle : other.triangles) {
        for (std::int32_t& corner : triangle) corner = place[std::size_t(corner)];
    }
    std::shuffle(other.triangles.begin(), other.triangles.end(), random);
    return other;
}

/// Places in and round such a body.
inline std::vector<Vec3> places_round_it(int count) {
    std::mt19937 random{2};
    std::vector<Vec3> places;
    for (int i = 0; i < count; ++i) places.push_back(test::random_point(random, 0.15));
    return places;
}

}  // namespace evenspit::bench
