// SPDX-License-Identifier: MIT
#include "scan/sampling.h"

#include <algorithm>
#include <cmath>

#include "scan/every_nth.h"

namespace evenspit::scan {

namespace {

constexpr double pieces_across = 200;
constexpr std::size_t pieces_a_look = 1 << 15;  // some milliseconds
constexpr double most_points = 1.5e6;           // more average no better: what is left is drift
constexpr double most_splits = 400;  // along an edge: a triangle as large as the scene, or a wild one

}  // namespace

PointSet sampled(const ScanFile& scan, const StopControl& control) {
    PointSet points;
    const TriangleMesh& mesh = scan.mesh;
    if (mesh.triangles.empty()) {
        points.positions = every_nth(mesh.vertices, most_points);
        points.normals = every_nth(scan.normals, most_points);
        return points;
    }
    PointSet corners;
    corners.positions = mesh.vertices;
    const double longest = robust_diagonal(corners, control) / pieces_across;
    EveryNthCheck now_and_then(control, pieces_a_look);
    for (const Triangle& t : mesh.triangles) {
        const Vec3 a = mesh.corner(t, 0), u = mesh.corner(t, 1) - a, v = mesh.corner(t, 2) - a;
        const Vec3 normal = u.cross(v);
        if (!(normal.norm() > 0)) continue;
        const double edge = std::max({u.norm(), v.norm(), (u - v).norm()});
        const int n = int(std::clamp(std::ceil(edge / longest), 1.0, most_splits));
        // n² like pieces: those that stand as the whole does, and those between them that stand upside down.
        for (int j = 0; j < n; ++j) {
            for (int i = 0; i < n - j; ++i) {
                now_and_then.step();
                points.positions.emplace_back(a + (i + 1.0 / 3) / n * u + (j + 1.0 / 3) / n * v);
                if (i + j < n - 1)
                    points.positions.emplace_back(a + (i + 2.0 / 3) / n * u + (j + 2.0 / 3) / n * v);
            }
        }
        points.normals.resize(points.positions.size(), normal.normalized());
    }
    return points;
}

}  // namespace evenspit::scan
