// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

#include "geometry/bvh_node.h"
#include "geometry/mesh.h"

namespace evenspit {

/// A stretch of a segment that lies inside a solid, as distances from the segment's start, metres.
struct Interval {
    double from = 0;
    double to = 0;

    [[nodiscard]] double length() const { return to - from; }
};

/// The union of stretches, in order and disjoint; two that lie no further apart than `bridged`, m, become
/// one.
std::vector<Interval> merged(std::vector<Interval> stretches, double bridged = 0);

/// The sum of their lengths, m.
double total_length(const std::vector<Interval>& stretches);

/// The middle of them all, weighed by length, m; nothing if they have none.
std::optional<double> middle_of(const std::vector<Interval>& stretches);

/// Where on a mesh a query ended.
struct ClosestPoint {
    double distance = 0;  ///< m
    Vec3 point = Vec3::Zero();
    std::int32_t triangle = -1;
};

/// A closed mesh made ready for queries: a tree of boxes over its triangles. Boxes are rounded
/// outward; all that decides and all that is told is in double.
///
/// Inside is where the surface winds round a point at least once: parts that overlap count once, an inner
/// shell turned over is a cavity. Keeps its own copy of the mesh. Building is O(n log n); each query about
/// O(log n). Queries change nothing and may run side by side.
class SolidQueries {
  public:
    /// \param inner by triangle, whether distance_beside() leaves it out, as the wall of an open cavity; may
    /// be empty, for none \pre check_solid(mesh).ok() \throws std::invalid_argument if there are no
    /// triangles, or a corner further out than BvhNode::furthest
    explicit SolidQueries(TriangleMesh mesh, std::vector<bool> inner = {});

    [[nodiscard]] const TriangleMesh& mesh() const { return mesh_; }

    /// The stretches of the segment a→b inside the solid, in order, disjoint, each longer than 0.
    ///
    /// Crossings are counted in the plane across the segment with exact signs, ties broken by an infinitely
    /// small shift of the segment that is the same for all triangles: a segment through an edge or a corner
    /// is counted exactly once and the count never fails. A segment that starts inside begins at 0; one that
    /// ends inside ends at |b − a|. One that runs within the surface may count as inside or outside there. A
    /// segment without length, or with a coordinate that is not finite, has no stretches.
    [[nodiscard]] std::vector<Interval> inside(const Vec3& a, const Vec3& b) const;

    /// Whether a point lies inside (on the surface: either answer; not finite: no).
    [[nodiscard]] bool contains(const Vec3& point) const;

    /// The nearest point of the surface.
    ///
    /// \param within how far to look, m: if nothing is nearer, distance is `within` and triangle −1. Much
    /// faster than looking everywhere when only nearness matters.
    ///
    /// \pre the point is finite
    [[nodiscard]] ClosestPoint closest(const Vec3& point,
                                       double within = std::numeric_limits<double>::infinity()) const;

    /// Where a half-line first meets the surface, from whichever side.
    ///
    /// \param direction unit length
    /// \param within how far to look, m: if nothing is met sooner, distance is `within` and triangle −1.
    /// Where it starts does not count as met. The mesh need not bound a solid for this.
    [[nodiscard]] ClosestPoint first_hit(const Vec3& start, const Vec3& direction,
                                         double within = std::numeric_limits<double>::infinity()) const;

    /// Least distance at right angles to a line from it to what of the surface lies between two places along
    /// it, inner triangles left out.
    ///
    /// \param start of the line; places count from here, m
    /// \param direction unit length
    /// \return infinite if nothing of the surface lies there
    [[nodiscard]] double distance_beside(const Vec3& start, const Vec3& direction, double from,
                                         double to) const;

    /// The surface's least and greatest extent along a direction, p · direction, m.
    [[nodiscard]] Interval extent(const Vec3& direction) const;

  private:
    // Deeper than this a node is halved by count whatever it costs, so that no mesh makes the tree deeper
    // than this plus log2 of what is left.
    static constexpr int greedy_depth = 40;
    // The deepest path: 2^40 triangles are more than any machine holds.
    static constexpr std::size_t deepest_path = greedy_depth + 40;

    // What may wait on the way down: all but one child of each node of it.
    static constexpr std::size_t most_waiting = (BvhNode::width - 1) * deepest_path + 1;

    struct Builder;
    struct Line;
    struct Crossing;

    [[nodiscard]] double furthest(const Vec3& way) const;
    [[nodiscard]] std::vector<Crossing> crossings(const Line& line) const;
    /// How often the surface winds round the line's start, by what was met of the line's part that tells so.
    static int winding_at_start(const Line& line, const std::vector<Crossing>& met);
    void add_crossings(const Line& line, std::size_t first, std::size_t count,
                       std::vector<Crossing>& found) const;
    [[nodiscard]] bool is_inner(std::int32_t triangle) const {
        return !inner_.empty() && inner_[std::size_t(triangle)];
    }

    TriangleMesh mesh_;
    std::vector<bool> inner_;  // by triangle; empty for none
    Box3 box_;
    std::vector<std::int32_t> order_;  // triangles, those of a leaf side by side
    std::vector<Triangle> corners_;    // of each of them, so that a leaf finds them in one place
    std::vector<BvhNode> nodes_;       // the root first, each before its children
};

}  // namespace evenspit
