// SPDX-License-Identifier: MIT
// Small closed meshes with known properties, for tests.
#pragma once

#include <cmath>
#include <cstdint>
#include <functional>
#include <numbers>

#include "geometry/mesh.h"

namespace evenspit::test {

/// A box with sides along the axes.
inline TriangleMesh box_mesh(const Vec3& min, const Vec3& max) {
    TriangleMesh mesh;
    for (int i = 0; i < 8; ++i) {
        mesh.vertices.emplace_back((i & 1) ? max.x() : min.x(), (i & 2) ? max.y() : min.y(),
                                   (i & 4) ? max.z() : min.z());
    }
    mesh.triangles = {{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6}, {0, 1, 5}, {0, 5, 4},
                      {2, 6, 7}, {2, 7, 3}, {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}};
    return mesh;
}

/// A closed surface over a grid of longitude (n) and latitude (m), with one vertex at each pole: position(u,
/// v) with u the longitude in [0, 2π) and v in [0, 1] from the −x pole to the +x pole; the mesh is oriented
/// outward for a body about the x axis whose radius vector (cos u, sin u) lies in (y, z).
inline TriangleMesh grid_mesh(int n, int m, const std::function<Vec3(double, double)>& position) {
    TriangleMesh mesh;
    mesh.vertices.push_back(position(0, 0));
    for (int j = 1; j < m; ++j) {
        for (int i = 0; i < n; ++i)
            mesh.vertices.push_back(position(2 * std::numbers::pi * i / n, double(j) / m));
    }
    mesh.vertices.push_back(position(0, 1));
    const auto at = [n](int i, int j) { return std::int32_t(1 + (j - 1) * n + (i % n)); };
    const auto last = std::int32_t(mesh.vertices.size() - 1);
    for (int i = 0; i < n; ++i) {
        mesh.triangles.push_back({0, at(i + 1, 1), at(i, 1)});
        for (int j = 1; j + 1 < m; ++j) {
            mesh.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
            mesh.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
        }
        mesh.triangles.push_back({last, at(i, m - 1), at(i + 1, m - 1)});
    }
    return mesh;
}

/// An ellipsoid with half axes a (x), b (y), c (z) about a centre; n longitudes, m latitudes.
inline TriangleMesh ellipsoid_mesh(double a, double b, double c, const Vec3& centre, int n = 48, int m = 32) {
    return grid_mesh(n, m, [&](double u, double v) {
        const double t = std::numbers::pi * v;
        return Vec3(centre +
                    Vec3(-a * std::cos(t), b * std::sin(t) * std::cos(u), c * std::sin(t) * std::sin(u)));
    });
}

}  // namespace evenspit::test
