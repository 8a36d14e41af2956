// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <limits>
#include <vector>

#include "geometry/swept.h"
#include "geometry/types.h"

namespace evenspit {

/// A stretch of a load that turns: the hull of two discs perpendicular to the X axis, their centres in the
/// plane y = 0, lowered by the sag.
struct Frustum {
    double x0 = 0, z0 = 0, r0 = 0;  ///< station, height of the centre and radius of the first disc, m
    double x1 = 0, z1 = 0, r1 = 0;  ///< of the second, x0 ≤ x1; if x0 == x1 both discs are the same
    int part = -1;                  ///< index into Outline::parts

    /// Radius and height of the centre at a station of the frustum, m.
    [[nodiscard]] double radius_at(double x) const;
    [[nodiscard]] double height_at(double x) const;
};

/// The point of the solid frustum nearest to `q`; `q` itself if it lies inside.
Vec3 nearest_point(const Frustum& frustum, const Vec3& q);

/// The greatest direction·p over the frustum, m (its support function).
double reach(const Frustum& frustum, const Vec3& direction);

/// The outline's pieces, each station lowered by sag(x). A piece is cut where the sag bends away by more than
/// `bend_m` from the straight line between its ends.
///
/// \param most_curved_1_m no more than this does the sag curve anywhere, if that is known: short pieces then
/// need no look between their ends
///
/// \throws std::invalid_argument if the sag is not finite.
std::vector<Frustum> lowered(const Outline& outline, const std::function<double(double)>& sag,
                             double bend_m = 1e-8,
                             double most_curved_1_m = std::numeric_limits<double>::infinity());

/// A tree over frusta in order of station; every node is a frustum that holds all below it.
class FrustumTree {
  public:
    /// \pre not empty
    explicit FrustumTree(const std::vector<Frustum>& frusta);

    [[nodiscard]] int root() const { return 0; }
    [[nodiscard]] const Frustum& hull(int node) const { return nodes_[static_cast<std::size_t>(node)].hull; }
    /// A leaf's hull is one of the given frusta.
    [[nodiscard]] bool is_leaf(int node) const { return nodes_[static_cast<std::size_t>(node)].right < 0; }
    [[nodiscard]] int left(int node) const { return node + 1; }
    [[nodiscard]] int right(int node) const { return nodes_[static_cast<std::size_t>(node)].right; }

    /// How far a hull stands off what it holds, m; 0 for a leaf.
    [[nodiscard]] double slack(int node) const { return nodes_[static_cast<std::size_t>(node)].slack; }

  private:
    struct Node {
        Frustum hull;
        double slack = 0;
        std::int32_t right = -1;  // the left child follows its parent
    };
    void build(const std::vector<Frustum>& frusta, std::size_t first, std::size_t last);

    std::vector<Node> nodes_;
};

}  // namespace evenspit
