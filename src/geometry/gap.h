// SPDX-License-Identifier: MIT
#pragma once

#include <functional>

#include "geometry/surface.h"
#include "geometry/swept.h"

namespace evenspit {

/// The nearest approach of a swept solid and a surface.
struct Gap {
    double distance = 0;                ///< m; negative: the swept solid strikes the surface, by so much
    double at = 0;                      ///< station of the nearest point of the load, m
    Vec3 on_load = Vec3::Zero();        ///< world, m
    Vec3 on_surface = Vec3::Zero();     ///< world, m
    int part = -1;                      ///< index into Outline::parts
};

/// Distance from the solid of revolution within `outline`, each station lowered by `sag(x)` along −Z, to a surface.
///
/// World and rod frame coincide here (the outline does not depend on the turn). For a plane the distance is signed. For the other
/// shapes a solid that reaches into or through the surface has a negative gap: minus the largest length by which the swept
/// radius runs past the surface along a ray from the axis (for a box not more than the push along the rod that would free it).
/// Accuracy: 1e-7 m beside the outline's own.
///
/// \param sag downward displacement of the axis at station x, m; smooth, and small against the radii
/// \pre the outline is not empty
Gap nearest_gap(const Outline& outline, const std::function<double(double)>& sag, const SurfaceShape& surface);

}  // namespace evenspit
