// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <limits>
#include <vector>

#include "geometry/frustum.h"
#include "geometry/surface.h"
#include "geometry/swept.h"

namespace evenspit {

/// The nearest approach of a swept solid and a surface; of a strike, the deepest place.
struct Gap {
    double distance = 0;             ///< m; negative: the swept solid strikes the surface, by so much
    double at = 0;                   ///< station of the load's point, m
    Vec3 on_load = Vec3::Zero();     ///< on the outline, world, m
    Vec3 on_surface = Vec3::Zero();  ///< world, m
    int part = -1;                   ///< index into Outline::parts
};

/// Distance from the solid of revolution within `outline`, each station lowered by `sag(x)` along −Z, to a
/// surface.
///
/// World and rod frame coincide here (the outline does not depend on the turn). For a plane the distance is
/// signed. For the other shapes a solid that reaches into or through the surface has a negative gap: minus
/// the greatest length by which the swept radius runs past the surface along a ray from the sagged axis, at
/// one station. For a box it is not more than the push along the rod that would free it, so that a load whose
/// end presses a little way into a wall across the rod strikes by that little. Where the axis itself runs
/// through the surface the whole radius counts.
///
/// A thin wall (revolved, mesh) has no inside: a load that lies wholly beyond it does not strike. Of a
/// revolved wall that stands right under the rod two places are as near: the one at +y is told.
///
/// Accuracy: 1e-7 m beside the outline's own. Where whole faces of a thin wall lie equally near (a sphere
/// within a sphere), so that a closer look never ends, it gives way to some 1e-6 m; the gap is then too
/// great, never too small.
///
/// \param sag downward displacement of the axis at station x, m; smooth, and small against the radii
/// \throws std::invalid_argument if the outline is empty, the sag is not finite, a plane's normal is not of
/// unit
///         length (to 1e-9), a box has a side that runs backwards, a profile has fewer than two points or a
///         radius that is negative or not finite, or a mesh is null or has no triangles.
Gap nearest_gap(const Outline& outline, const std::function<double(double)>& sag,
                const SurfaceShape& surface);

/// A swept and sagged load made ready for nearest_gap() to several surfaces.
class SaggedLoad {
  public:
    /// \param accuracy_m of the gaps, where they are not found sooner; 1e-7 is nearest_gap()'s
    /// \param most_curved_1_m no more than this does the sag curve anywhere, if that is known; saves time
    /// \throws std::invalid_argument if the outline is empty or the sag is not finite
    SaggedLoad(const Outline& outline, const std::function<double(double)>& sag, double accuracy_m = 1e-7,
               double most_curved_1_m = std::numeric_limits<double>::infinity());

    [[nodiscard]] Gap gap_to(const SurfaceShape& surface) const;

  private:
    std::vector<Frustum> pieces_;
    FrustumTree tree_;
    double accuracy_m_;
};

}  // namespace evenspit
