// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "geometry/mesh.h"

namespace evenspit {

/// A stretch of a segment that lies inside a solid, as distances from the segment's start, metres.
struct Interval {
    double from = 0;
    double to = 0;

    [[nodiscard]] double length() const { return to - from; }
};

/// Where on a mesh a query ended.
struct ClosestPoint {
    double distance = 0;      ///< m
    Vec3 point = Vec3::Zero();
    std::int32_t triangle = -1;
};

/// A closed mesh made ready for queries: a tree of boxes over its triangles, all in double.
///
/// Keeps its own copy of the mesh. Building is O(n log n); each query about O(log n).
class SolidQueries {
  public:
    /// \pre check_solid(mesh).ok()
    explicit SolidQueries(TriangleMesh mesh);

    [[nodiscard]] const TriangleMesh& mesh() const { return mesh_; }

    /// The stretches of the segment a→b inside the solid, in order, disjoint.
    ///
    /// Crossings are counted with edge signs that both neighbours of an edge evaluate alike, ties broken the same way for both, so
    /// that a segment through an edge or a corner is counted exactly once and parity never fails. A segment that starts inside begins
    /// at 0; one that ends inside ends at |b − a|.
    [[nodiscard]] std::vector<Interval> inside(const Vec3& a, const Vec3& b) const;

    /// Whether a point lies inside (on the surface: either answer).
    [[nodiscard]] bool contains(const Vec3& point) const;

    /// The nearest point of the surface.
    [[nodiscard]] ClosestPoint closest(const Vec3& point) const;

  private:
    struct Node {
        Box3 box;
        std::int32_t first = 0;  // first triangle of a leaf, or index of the left child; the right child follows it
        std::int32_t count = 0;  // triangles of a leaf, 0 for an inner node
    };
    TriangleMesh mesh_;
    std::vector<std::int32_t> order_;
    std::vector<Node> nodes_;
};

}  // namespace evenspit
