// SPDX-License-Identifier: MIT
#include "body/measures.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "geometry/hull.h"

namespace evenspit::body {
namespace {

constexpr int sections = 100;

// Where the edges of a mesh cross evenly spaced planes square to x: (y, z) for each plane.
std::array<std::vector<Vec2>, sections> cut(const TriangleMesh& mesh, double from, double step) {
    std::array<std::vector<Vec2>, sections> outlines;
    for (const Triangle& t : mesh.triangles) {
        for (int k = 0; k < 3; ++k) {
            const Vec3 &a = mesh.corner(t, k), &b = mesh.corner(t, (k + 1) % 3);
            // In a closed mesh the neighbour runs along the edge the other way.
            if (!(a.x() < b.x())) continue;
            const int first = std::max(0, static_cast<int>(std::ceil((a.x() - from) / step)));
            for (int i = first; i < sections && from + i * step <= b.x(); ++i) {
                const double share = (from + i * step - a.x()) / (b.x() - a.x());
                outlines[static_cast<std::size_t>(i)].emplace_back((a + share * (b - a)).tail<2>());
            }
        }
    }
    return outlines;
}

}  // namespace

BodyMeasures measure_body(const Body& body) {
    const TriangleMesh& skin = body.parts.front().mesh;
    const Box3 box = bounds(skin);
    BodyMeasures measures{.size = box.sizes()};
    const double step = box.sizes().x() / sections;
    const double from = box.min().x() + step / 2;
    auto outlines = cut(skin, from, step);
    for (std::size_t i = 0; i < outlines.size(); ++i) {
        const double girth = hull_perimeter(std::move(outlines[i]));
        if (girth <= measures.girth_m) continue;
        measures.girth_m = girth;
        measures.girth_at_m = from + static_cast<double>(i) * step;
    }
    return measures;
}

double cavity_volume(const Body& body) {
    double sum = 0;
    for (const Part& part : body.parts) {
        if (part.kind == PartKind::cavity) sum += volume_moments(part.mesh).amount;
    }
    return sum;
}

}  // namespace evenspit::body
