// SPDX-License-Identifier: MIT
// Meshes and random things that several tests of this room share.
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>

#include "geometry/mesh.h"
#include "support/meshes.h"

namespace evenspit::test {

/// Both meshes side by side in one.
inline TriangleMesh joined(TriangleMesh a, const TriangleMesh& b) {
    const auto shift = std::int32_t(a.vertices.size());
    a.vertices.insert(a.vertices.end(), b.vertices.begin(), b.vertices.end());
    for (const Triangle& t : b.triangles) a.triangles.push_back({t[0] + shift, t[1] + shift, t[2] + shift});
    return a;
}

/// All triangles turned over.
inline TriangleMesh turned_over(TriangleMesh mesh) {
    for (Triangle& t : mesh.triangles) std::swap(t[1], t[2]);
    return mesh;
}

/// The tetrahedron on four points, outward whatever their order.
inline TriangleMesh tetrahedron_mesh(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
    TriangleMesh mesh{{a, b, c, d}, {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}}};
    return (b - a).dot((c - a).cross(d - a)) > 0 ? mesh : turned_over(mesh);
}

/// A square tube along z: outer square [0, side]², inner square [x0, x1] × [y0, y1] open at both ends, height
/// [0, height].
inline TriangleMesh tube_mesh(double side, double height, double x0, double x1, double y0, double y1) {
    TriangleMesh mesh;
    for (const double z : {0.0, height}) {
        mesh.vertices.insert(mesh.vertices.end(), {{0, 0, z}, {side, 0, z}, {side, side, z}, {0, side, z}});
        mesh.vertices.insert(mesh.vertices.end(), {{x0, y0, z}, {x1, y0, z}, {x1, y1, z}, {x0, y1, z}});
    }
    const auto quad = [&](int a, int b, int c, int d) {
        mesh.triangles.push_back({a, b, c});
        mesh.triangles.push_back({a, c, d});
    };
    for (int i = 0; i < 4; ++i) {
        const int j = (i + 1) % 4;
        quad(i, j, j + 8, i + 8);            // outer wall
        quad(j + 4, i + 4, i + 12, j + 12);  // inner wall
        quad(j, i, i + 4, j + 4);            // bottom
        quad(i + 8, j + 8, j + 12, i + 12);  // top
    }
    return mesh;
}

/// A torus about the z axis: n steps round the axis, n round the ring.
inline TriangleMesh torus_mesh(double ring_radius, double tube_radius, int n) {
    TriangleMesh mesh;
    for (int i = 0; i < n; ++i) {
        for (int j = 0; j < n; ++j) {
            const double u = 2 * std::numbers::pi * i / n;
            const double v = 2 * std::numbers::pi * j / n;
            const double r = ring_radius + tube_radius * std::cos(v);
            mesh.vertices.emplace_back(r * std::cos(u), r * std::sin(u), tube_radius * std::sin(v));
        }
    }
    const auto at = [n](int i, int j) { return std::int32_t((i % n) * n + j % n); };
    for (int i = 0; i < n; ++i) {
        for (int j = 0; j < n; ++j) {
            mesh.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
            mesh.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
        }
    }
    return mesh;
}

/// A cone about the x axis: tip at x = −height, base disc of `radius` in the plane x = 0.
inline TriangleMesh cone_mesh(double radius, double height, int n) {
    return grid_mesh(n, 2, [&](double u, double v) {
        if (v == 0) return Vec3(-height, 0, 0);
        const double r = v < 0.75 ? radius : 0;
        return Vec3(0, r * std::cos(u), r * std::sin(u));
    });
}

/// A body with folds: an ellipsoid of roughly 0.1 m whose radius waves by a fifth.
inline TriangleMesh wavy_mesh(int n = 60, int m = 40) {
    return grid_mesh(n, m, [](double u, double v) {
        const double t = std::numbers::pi * v;
        const double wave = 1 + 0.2 * std::sin(t) * std::sin(5 * u) * std::cos(4 * t);
        return Vec3(wave * Vec3(-0.12 * std::cos(t), 0.08 * std::sin(t) * std::cos(u),
                                0.06 * std::sin(t) * std::sin(u)));
    });
}

/// A point with each coordinate in [−size, size].
inline Vec3 random_point(std::mt19937& random, double size) {
    std::uniform_real_distribution<double> coordinate(-size, size);
    const double x = coordinate(random);
    const double y = coordinate(random);
    return {x, y, coordinate(random)};
}

/// A turn about a random axis, then a shift of at most `size` along each axis.
inline Pose random_pose(std::mt19937& random, double size) {
    const Vec3 axis = random_point(random, 1).normalized();
    const double angle = std::uniform_real_distribution<double>(-3, 3)(random);
    return Eigen::Translation3d(random_point(random, size)) * Eigen::AngleAxisd(angle, axis);
}

}  // namespace evenspit::test
