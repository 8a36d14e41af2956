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

#include <benchmark/benchmark.h>

#include "geometry/shapes.h"
#include "units/parallel.h"

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

/// What memory gives on all cores, bytes a second: J. D. McCalpin's triad, a = b + s·c, counted as three
// streams.
inline double triad_bytes_s() {
    constexpr std::size_t size = 32 << 20;
    std::vector<double> a(size, 0), b(size, 1), c(size, 2);
    const double took = seconds([&] {
        parallel_for(
            size,
            [&](std::size_t begin, std::size_t end) {
                for (std::size_t i = begin; i < end; ++i) a[i] = b[i] + 3 * c[i];
            },
            1 << 20);
        benchmark::DoNotOptimize(a.data());
    });
    return 3 * sizeof(double) * double(size) / took;
}

}  // namespace evenspit::bench
