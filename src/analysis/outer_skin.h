// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "analysis/clearance.h"
#include "analysis/mountings.h"

namespace evenspit {

/// How far a point of an item may lie from where it is written to be, m, after the item has been turned about
/// the rod and moved along it as it likes: neither changes how far it reaches out.
double off_the_line(const Item& written, const Item& mounted);

/// What of a mesh can reach out furthest at any station once its points have moved by at most `off_m`.
///
/// A triangle is left out where, even moved outward, it stays within what is round it moved inward: no
/// outline can touch it.
///
/// \param pose, scale mesh frame → rod frame, as written
TriangleMesh outer_skin(const TriangleMesh& mesh, const Pose& pose, double scale, double off_m);

/// Sweeps mountings of one load: each with no more of the skins than can matter near it. Nothing reaches out
/// less than of the whole; dents narrower than a few millimetres count as filled.
///
/// An item's mountings are gathered round a few of them, and each such group has a skin of its own.
class QuickSweep {
  public:
    QuickSweep(const Assembly& written, const Mountings& mountings);

    [[nodiscard]] SweptLoad operator()(const Assembly& mounting) const;

  private:
    struct Group {
        Item middle{};     ///< as it is mounted in the middle of the group
        double off_m = 0;  ///< good for items that are off from there by no more
        std::vector<TriangleMesh> skins{};
    };
    using Groups = std::vector<Group>;

    [[nodiscard]] static Groups groups_of(const Item& written, const std::vector<Item>& mounted);

    std::vector<Groups> items_;  ///< of each; none: it is swept whole
};

}  // namespace evenspit
