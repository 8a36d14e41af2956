// SPDX-License-Identifier: MIT
#include "scan/support.h"

#include <algorithm>
#include <cstddef>
#include <cstdint>

namespace evenspit::scan {

bool is_unseen(const Triangle& t, const std::vector<double>& support) {
    return std::all_of(t.begin(), t.end(),
                       [&](std::int32_t v) { return support[std::size_t(v)] < unseen_support; });
}

double area_of(const TriangleMesh& mesh, const Triangle& t) {
    const Vec3& a = mesh.corner(t, 0);
    return (mesh.corner(t, 1) - a).cross(mesh.corner(t, 2) - a).norm() / 2;
}

double surface_area(const TriangleMesh& mesh) {
    double area = 0;
    for (const Triangle& t : mesh.triangles) area += area_of(mesh, t);
    return area;
}

}  // namespace evenspit::scan
