// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <utility>

#include "geometry/mesh.h"
#include "geometry/types.h"

namespace evenspit::body {

/// A closed tube about a straight line, seen as a radius in every direction from it.
struct TubeOptions {
    Vec3 from = Vec3::Zero();  ///< m
    Vec3 to = Vec3::UnitX();   ///< m, not `from`
    Vec3 up = Vec3::UnitZ();   ///< direction of angle π/2 round the line, not along it
    int around = 16;           ///< corners of a ring, a multiple of 4
    int along = 12;            ///< steps between the ends, ≥ 2
    bool flat_ends = false;    ///< a full ring and a disc at each end; else the tube closes to a point there
};

/// Radius at the place `at` on the line, a share `s` of the way along, in the unit direction `outward`; m, >
/// 0.
using TubeRadius = std::function<double(const Vec3& at, const Vec3& outward, double s)>;

/// The tube as a closed mesh, outward. Rings lie in planes across the line, so it cannot meet itself.
TriangleMesh tube_mesh(const TubeOptions& options, const TubeRadius& radius);

/// A curved plate about the x axis: stations × angles, seen from the axis between an inner and an outer
/// radius.
struct ShellOptions {
    double from_x = 0, to_x = 1;  ///< m
    double from_angle = 0,
           to_angle = 1;         ///< rad about +x, 0 at +y, growing toward +z; less than a turn apart
    int along = 12, around = 8;  ///< steps
};

/// The plate as a closed mesh, outward. radius(on_axis, outward) gives inner and outer radius, the outer one
/// greater.
TriangleMesh shell_mesh(const ShellOptions& options,
                        const std::function<std::pair<double, double>(const Vec3&, const Vec3&)>& radius);

/// The mirror image across y = 0, outward again.
TriangleMesh mirror_image(TriangleMesh mesh);

}  // namespace evenspit::body
