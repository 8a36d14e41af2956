// SPDX-License-Identifier: MIT
#include "body/cavity_wall.h"

#include <cstddef>
#include <cstdint>
#include <map>
#include <set>
#include <utility>

#include "geometry/disjoint_sets.h"
#include "geometry/solid_check.h"

namespace evenspit::body {
namespace {

constexpr double overlap_m = 1e-6;  // far over rounding, far under what matters

using Edge = std::pair<std::int32_t, std::int32_t>;

// The wall's triangles of the largest piece that hangs together, turned over.
std::vector<Triangle> largest_piece(const TriangleMesh& skin, const std::vector<bool>& wall) {
    DisjointSets pieces(skin.vertices.size());
    for (std::size_t t = 0; t < wall.size(); ++t) {
        if (!wall[t]) continue;
        pieces.join(skin.triangles[t][1], skin.triangles[t][0]);
        pieces.join(skin.triangles[t][2], skin.triangles[t][0]);
    }
    std::map<std::int32_t, std::vector<Triangle>> by_piece;
    for (std::size_t t = 0; t < wall.size(); ++t) {
        const auto [a, b, c] = skin.triangles[t];
        if (wall[t]) by_piece[pieces.root(a)].push_back({a, c, b});
    }
    std::vector<Triangle> largest;
    for (auto& [root, triangles] : by_piece) {
        if (triangles.size() > largest.size()) largest = std::move(triangles);
    }
    return largest;
}

// Closes each opening by triangles from its rim to the middle of the rim.
void close_openings(TriangleMesh& mesh) {
    std::set<Edge> edges;
    for (const Triangle& t : mesh.triangles) {
        for (std::size_t k = 0; k < 3; ++k) edges.emplace(t[k], t[(k + 1) % 3]);
    }
    std::vector<Edge> rim;
    DisjointSets openings(mesh.vertices.size());
    for (const Edge& edge : edges) {
        if (edges.contains({edge.second, edge.first})) continue;
        rim.push_back(edge);
        openings.join(edge.second, edge.first);
    }
    struct Middle {
        Vec3 sum = Vec3::Zero();
        double count = 0;
        std::int32_t vertex = -1;
    };
    std::map<std::int32_t, Middle> middles;
    for (const Edge& edge : rim) {
        Middle& middle = middles[openings.root(edge.first)];
        middle.sum += mesh.vertices[std::size_t(edge.first)];
        middle.count += 1;
    }
    for (auto& [root, middle] : middles) {
        middle.vertex = std::int32_t(mesh.vertices.size());
        mesh.vertices.emplace_back(middle.sum / middle.count);
    }
    for (const Edge& edge : rim)
        mesh.triangles.push_back({edge.second, edge.first, middles[openings.root(edge.first)].vertex});
}

// Moves each vertex outward.
void enlarge(TriangleMesh& mesh, double by_m) {
    std::vector<Vec3> normals(mesh.vertices.size(), Vec3::Zero());
    for (const Triangle& t : mesh.triangles) {
        const Vec3& a = mesh.corner(t, 0);
        const Vec3 normal = (mesh.corner(t, 1) - a).cross(mesh.corner(t, 2) - a);
        for (const std::int32_t v : t) normals[std::size_t(v)] += normal;
    }
    for (std::size_t v = 0; v < normals.size(); ++v) mesh.vertices[v] += by_m * normals[v].normalized();
}

}  // namespace

std::optional<TriangleMesh> behind_wall(const TriangleMesh& skin, const std::vector<bool>& wall) {
    TriangleMesh mesh;
    std::vector<std::int32_t> number(skin.vertices.size(), -1);
    for (Triangle t : largest_piece(skin, wall)) {
        for (std::int32_t& v : t) {
            std::int32_t& renamed = number[std::size_t(v)];
            if (renamed < 0) {
                renamed = std::int32_t(mesh.vertices.size());
                mesh.vertices.push_back(skin.vertices[std::size_t(v)]);
            }
            v = renamed;
        }
        mesh.triangles.push_back(t);
    }
    if (mesh.triangles.empty()) return std::nullopt;
    close_openings(mesh);
    // What is flat before it is enlarged encloses nothing.
    if (!check_solid(mesh).ok()) return std::nullopt;
    enlarge(mesh, overlap_m);
    if (!check_solid(mesh).ok()) return std::nullopt;
    return mesh;
}

}  // namespace evenspit::body
