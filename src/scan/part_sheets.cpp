// SPDX-License-Identifier: MIT
#include "scan/part_sheets.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <map>
#include <span>
#include <utility>
#include <vector>

#include "geometry/disjoint_sets.h"

namespace evenspit::scan {

namespace {

constexpr int most_rounds = 8;

// A triangle at an edge.
struct Wing {
    std::array<std::int32_t, 2> edge{};  // the lesser corner first
    std::int32_t triangle = 0;
    std::size_t side = 0;  // from the triangle's corner of that number to the next
    bool forward = false;  // that leads from the edge's first corner to its second
    double angle_rad = 0;  // round the edge, seen against its direction
};

std::vector<Wing> wings_of(const TriangleMesh& mesh) {
    std::vector<Wing> wings;
    wings.reserve(3 * mesh.triangles.size());
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        for (std::size_t k = 0; k < 3; ++k) {
            const std::int32_t a = mesh.triangles[t][k], b = mesh.triangles[t][(k + 1) % 3];
            wings.push_back({{std::min(a, b), std::max(a, b)}, std::int32_t(t), k, a < b});
        }
    }
    std::sort(wings.begin(), wings.end(), [](const Wing& a, const Wing& b) {
        return a.edge != b.edge ? a.edge < b.edge : a.triangle < b.triangle;
    });
    return wings;
}

// Puts the wings of one edge in their order round it, a forward one first, so that each has what lies outside
// between it and the one that follows; false if there is no such order.
bool order_round(const TriangleMesh& mesh, std::span<Wing> wings) {
    const Vec3& from = mesh.vertices[std::size_t(wings.front().edge[0])];
    const Vec3 along = (mesh.vertices[std::size_t(wings.front().edge[1])] - from).normalized();
    const Vec3 across = along.unitOrthogonal(), other = along.cross(across);
    for (Wing& wing : wings) {
        const std::int32_t tip = mesh.triangles[std::size_t(wing.triangle)][(wing.side + 2) % 3];
        const Vec3 out = mesh.vertices[std::size_t(tip)] - from;
        wing.angle_rad = std::atan2(out.dot(other), out.dot(across));
    }
    // Two that lie on each other back to back are a fin without thickness: air ends at one before it begins
    // at the other.
    std::sort(wings.begin(), wings.end(), [](const Wing& a, const Wing& b) {
        return a.angle_rad != b.angle_rad ? a.angle_rad < b.angle_rad : a.forward < b.forward;
    });
    for (std::size_t n = 1; n < wings.size(); ++n) {
        if (wings[n].angle_rad == wings[n - 1].angle_rad && wings[n].forward == wings[n - 1].forward)
            return false;
    }
    // A forward wing's outward side is the one of greater angles: air begins there, and ends at a backward
    // one. Where a sheet is folded, air lies within air: what began last ends first, as with brackets.
    const auto step = [](const Wing& wing) { return wing.forward ? 1 : -1; };
    int open = 0, least = 0;
    std::size_t begin = 0;
    for (std::size_t n = 0; n < wings.size(); ++n) {
        open += step(wings[n]);
        if (open < least) {
            least = open;
            begin = n + 1;
        }
    }
    if (open != 0) return false;
    std::rotate(wings.begin(), wings.begin() + std::ptrdiff_t(begin), wings.end());
    std::vector<Wing> pairs, waiting;
    for (const Wing& wing : wings) {
        if (wing.forward) {
            waiting.push_back(wing);
        } else {
            pairs.insert(pairs.end(), {waiting.back(), wing});
            waiting.pop_back();
        }
    }
    std::copy(pairs.begin(), pairs.end(), wings.begin());
    return true;
}

std::int32_t corner(const Wing& wing, bool first) {
    return 3 * wing.triangle + std::int32_t((wing.side + (wing.forward == first ? 0 : 1)) % 3);
}

// The triangles at an edge, and how they are paired: two that have air between them, or flesh.
struct Edge {
    std::span<Wing> wings;
    bool apart = false;

    [[nodiscard]] const Wing& one(std::size_t n) const { return wings[n]; }
    [[nodiscard]] const Wing& other(std::size_t n) const {
        return wings[apart ? (n + wings.size() - 1) % wings.size() : n + 1];
    }
    // Whether two of its pairs are at the same places, as they are told apart so far.
    [[nodiscard]] bool holds_twice(DisjointSets& corners) const {
        for (std::size_t n = 0; n < wings.size(); n += 2) {
            for (std::size_t m = n + 2; m < wings.size(); m += 2) {
                if (corners.root(corner(wings[n], true)) == corners.root(corner(wings[m], true)) &&
                    corners.root(corner(wings[n], false)) == corners.root(corner(wings[m], false)))
                    return true;
            }
        }
        return false;
    }
};

TriangleMesh with_own_corners(const TriangleMesh& mesh, DisjointSets& corners) {
    TriangleMesh parted;
    std::map<std::int32_t, std::int32_t> numbers;  // of places, by the root of their corners
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        Triangle& triangle = parted.triangles.emplace_back();
        for (std::size_t k = 0; k < 3; ++k) {
            const auto [at, is_new] = numbers.try_emplace(corners.root(std::int32_t(3 * t + k)),
                                                          std::int32_t(parted.vertices.size()));
            if (is_new) parted.vertices.push_back(mesh.vertices[std::size_t(mesh.triangles[t][k])]);
            triangle[k] = at->second;
        }
    }
    return parted;
}

}  // namespace

std::optional<TriangleMesh> part_sheets(const TriangleMesh& mesh) {
    std::vector<Wing> wings = wings_of(mesh);
    std::vector<Edge> edges;
    for (std::size_t begin = 0, end = 0; begin < wings.size(); begin = end) {
        while (end < wings.size() && wings[end].edge == wings[begin].edge) ++end;
        edges.push_back({std::span(wings).subspan(begin, end - begin)});
        const std::span<Wing> here = edges.back().wings;
        if (here.size() == 2 ? here[0].forward == here[1].forward : !order_round(mesh, here))
            return std::nullopt;
    }
    // Corners of triangles, three each; those that are one place of one sheet hang together.
    for (int round = 0; round < most_rounds; ++round) {
        DisjointSets corners(wings.size());
        for (const Edge& edge : edges) {
            for (std::size_t n = 0; n < edge.wings.size(); n += 2) {
                for (const bool first : {true, false})
                    corners.join(corner(edge.one(n), first), corner(edge.other(n), first));
            }
        }
        bool again = false;
        for (Edge& edge : edges) {
            if (edge.apart || !edge.holds_twice(corners)) continue;
            edge.apart = again = true;
        }
        if (!again) return with_own_corners(mesh, corners);
    }
    return std::nullopt;
}

}  // namespace evenspit::scan
