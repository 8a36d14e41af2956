// SPDX-License-Identifier: MIT
#include "body/tube.h"

#include <cmath>
#include <cstdint>
#include <numbers>
#include <utility>

namespace evenspit::body {

TriangleMesh tube_mesh(const TubeOptions& options, const TubeRadius& radius) {
    const Vec3 axis = (options.to - options.from).normalized();
    // (first, second, axis) right-handed.
    const Vec3 second = (options.up - options.up.dot(axis) * axis).normalized();
    const Vec3 first = second.cross(axis);
    const int n = options.around;

    TriangleMesh mesh;
    const auto ring = [&](double s) {
        const Vec3 at = options.from + s * (options.to - options.from);
        for (int i = 0; i < n; ++i) {
            const double angle = 2 * std::numbers::pi * i / n;
            const Vec3 outward = std::cos(angle) * first + std::sin(angle) * second;
            mesh.vertices.emplace_back(at + radius(at, outward, s) * outward);
        }
    };
    mesh.vertices.push_back(options.from);
    int rings = 0;
    const int first_step = options.flat_ends ? 0 : 1;
    for (int j = first_step; j <= options.along - first_step; ++j, ++rings) {
        // Rings stand closer toward the ends, where the radius changes fastest.
        ring(0.5 - 0.5 * std::cos(std::numbers::pi * j / options.along));
    }
    mesh.vertices.push_back(options.to);

    // Diagonals lean alike on either side of the plane of axis and `up`, so that a tube that is even about it
    // has its mesh even too.
    const auto at = [n](int i, int j) { return static_cast<std::int32_t>(1 + j * n + i % n); };
    const auto last = static_cast<std::int32_t>(mesh.vertices.size() - 1);
    for (int i = 0; i < n; ++i) {
        mesh.triangles.push_back({0, at(i + 1, 0), at(i, 0)});
        for (int j = 0; j + 1 < rings; ++j) {
            if (i >= n / 4 && i < 3 * (n / 4)) {
                mesh.triangles.push_back({at(i, j), at(i + 1, j), at(i, j + 1)});
                mesh.triangles.push_back({at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)});
            } else {
                mesh.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
                mesh.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
            }
        }
        mesh.triangles.push_back({last, at(i, rings - 1), at(i + 1, rings - 1)});
    }
    return mesh;
}

TriangleMesh shell_mesh(const ShellOptions& options,
                        const std::function<std::pair<double, double>(const Vec3&, const Vec3&)>& radius) {
    const int n = options.along, m = options.around;
    TriangleMesh shell;
    shell.vertices.resize(static_cast<std::size_t>(2 * (n + 1) * (m + 1)));
    const auto at = [n, m](int layer, int i, int j) {
        return static_cast<std::int32_t>((layer * (n + 1) + i) * (m + 1) + j);
    };
    for (int i = 0; i <= n; ++i) {
        const Vec3 on_axis(options.from_x + (options.to_x - options.from_x) * i / n, 0, 0);
        for (int j = 0; j <= m; ++j) {
            const double angle = options.from_angle + (options.to_angle - options.from_angle) * j / m;
            const Vec3 outward(0, std::cos(angle), std::sin(angle));
            const auto [inner, outer] = radius(on_axis, outward);
            shell.vertices[static_cast<std::size_t>(at(0, i, j))] = on_axis + inner * outward;
            shell.vertices[static_cast<std::size_t>(at(1, i, j))] = on_axis + outer * outward;
        }
    }
    const auto face = [&shell](std::int32_t a, std::int32_t b, std::int32_t c, std::int32_t d) {
        shell.triangles.push_back({a, b, c});
        shell.triangles.push_back({a, c, d});
    };
    for (int i = 0; i < n; ++i) {
        for (int j = 0; j < m; ++j) {
            face(at(1, i, j), at(1, i, j + 1), at(1, i + 1, j + 1), at(1, i + 1, j));
            face(at(0, i, j), at(0, i + 1, j), at(0, i + 1, j + 1), at(0, i, j + 1));
        }
        face(at(0, i, 0), at(1, i, 0), at(1, i + 1, 0), at(0, i + 1, 0));
        face(at(0, i, m), at(0, i + 1, m), at(1, i + 1, m), at(1, i, m));
    }
    for (int j = 0; j < m; ++j) {
        face(at(0, 0, j), at(0, 0, j + 1), at(1, 0, j + 1), at(1, 0, j));
        face(at(0, n, j), at(1, n, j), at(1, n, j + 1), at(0, n, j + 1));
    }
    return shell;
}

TriangleMesh mirror_image(TriangleMesh mesh) {
    for (Vec3& v : mesh.vertices) v.y() = -v.y();
    for (Triangle& t : mesh.triangles) std::swap(t[1], t[2]);
    return mesh;
}

}  // namespace evenspit::body
