// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

#include "geometry/mesh.h"
#include "geometry/swept.h"

namespace evenspit {

class SpotView;

/// A mesh made ready to be swept in many poses: a tree of boxes over its triangles.
///
/// What lies so far within what is swept already that it cannot reach the outline is passed over, box by box;
/// the outline is that of the whole mesh to the last bit. Building is O(n log n). A sweep of a skin takes
/// about as long as the boxes that touch its outline are many, and one look at each of the smallest.
class SweepTree {
  public:
    /// \throws std::invalid_argument if a coordinate of a triangle is not finite
    explicit SweepTree(const TriangleMesh& mesh);

    /// The outline of the mesh alone; see sweep().
    ///
    /// \throws std::invalid_argument as sweep() does
    [[nodiscard]] std::vector<OutlinePiece> pieces(const Pose& pose, double scale, double step,
                                                   int part) const;

  private:
    SweepTree() = default;

    struct Node {
        Vec3 middle = Vec3::Zero(), half = Vec3::Zero();  // of its box, mesh frame
        Vec3 normal =
            Vec3::Zero();  // all lies below the plane across it, `above` from the middle; 0: no such plane
        double above = 0;
        // Of a leaf: vertices and edges; else the index of the left child, which the right one follows, and
        // 0.
        std::int32_t first_vertex = 0, vertices = 0, first_edge = 0, edges = 0;
        double longest = 0;  // of a leaf's edges
    };
    struct Builder;
    struct Look;
    class Sweep;

    [[nodiscard]] Look look(const SpotView& view, std::int32_t node) const;

    std::vector<Node> nodes_;                                     // the root first; none without triangles
    std::vector<std::int32_t> leaves_;                            // among them
    std::vector<Vec3> vertices_;                                  // by leaf: one may stand in several
    double usual_edge_ = 0;                                       // longer ones are in few leaves
    std::vector<std::pair<std::uint16_t, std::uint16_t>> edges_;  // by leaf, counted from its first vertex
};

}  // namespace evenspit
