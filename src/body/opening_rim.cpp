// SPDX-License-Identifier: MIT
#include "body/opening_rim.h"

#include <cstddef>
#include <cstdint>
#include <map>
#include <utility>

#include "body/joined_parts.h"
#include "geometry/disjoint_sets.h"

namespace evenspit::body {
namespace {

using Corners = std::pair<std::int32_t, std::int32_t>;

/// The edges between wall and skin of one part, those that hang together with one another.
std::vector<OpeningRim> rims_of(const Body& body, const Part& part) {
    std::map<Corners, std::array<bool, 2>> sides;  // of an edge: skin, wall
    for (std::size_t t = 0; t < part.mesh.triangles.size(); ++t) {
        const bool wall = body.region_table[part.regions[t]].kind == RegionKind::cavity_wall;
        const Triangle& corners = part.mesh.triangles[t];
        for (std::size_t k = 0; k < 3; ++k)
            sides[std::minmax(corners[k], corners[(k + 1) % 3])][wall ? 1 : 0] = true;
    }
    DisjointSets pieces(part.mesh.vertices.size());
    for (const auto& [edge, side] : sides) {
        if (side[0] && side[1]) pieces.join(edge.first, edge.second);
    }
    std::map<std::int32_t, OpeningRim> by_piece;
    for (const auto& [edge, side] : sides) {
        if (!side[0] || !side[1]) continue;
        by_piece[pieces.root(edge.first)].edges.push_back(
            {part.mesh.vertices[std::size_t(edge.first)], part.mesh.vertices[std::size_t(edge.second)]});
    }
    std::vector<OpeningRim> rims;
    rims.reserve(by_piece.size());
    for (auto& [root, rim] : by_piece) rims.push_back(std::move(rim));
    return rims;
}

}  // namespace

std::optional<std::array<Vec3, 2>> OpeningRim::at(double y_m, double slope) const {
    std::optional<std::array<Vec3, 2>> found;
    for (const auto& [a, b] : edges) {
        const double to_a = a.y() - y_m - slope * a.x(), to_b = b.y() - y_m - slope * b.x();
        if (to_a == to_b || (to_a > 0) == (to_b > 0)) continue;
        const Vec3 place = a + (b - a) * (to_a / (to_a - to_b));
        if (!found) found = {place, place};
        if (place.z() < (*found)[0].z()) (*found)[0] = place;
        if (place.z() > (*found)[1].z()) (*found)[1] = place;
    }
    return found;
}

std::optional<std::array<OpeningRim, 2>> opening_rims(const Body& body) {
    const Box3 hollow = open_cavity_bounds(body);
    if (hollow.isEmpty()) return std::nullopt;
    // What scans name may have islands; a rim is the longest edge on its side.
    std::array<OpeningRim, 2> longest;
    for (const Part& part : body.parts) {
        if (part.kind != PartKind::flesh || part.parent >= 0 || part.regions.empty()) continue;
        for (OpeningRim& rim : rims_of(body, part)) {
            OpeningRim& so_far = longest[rim.edges[0][0].x() < hollow.center().x() ? 0 : 1];
            if (rim.edges.size() > so_far.edges.size()) so_far = std::move(rim);
        }
    }
    if (longest[0].edges.empty() || longest[1].edges.empty()) return std::nullopt;
    return longest;
}

}  // namespace evenspit::body
