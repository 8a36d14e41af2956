// SPDX-License-Identifier: MIT
// Loads for the tests of heat: items on a rod and the surfaces round them, no more.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "plan/loads.h"
#include "support/meshes.h"

namespace evenspit::test {

inline constexpr double hour_s = 3600;

inline CookerSurface surface(std::string name, SurfaceShape shape, bool fire = false) {
    CookerSurface made;
    made.name = std::move(name);
    made.shape = std::move(shape);
    made.fire = fire;
    return made;
}

inline Assembly scene(std::vector<Item> items, std::vector<CookerSurface> surfaces) {
    Assembly assembly;
    assembly.items = std::move(items);
    assembly.cooker.surfaces = std::move(surfaces);
    return assembly;
}

/// 2 kg of meat, its mesh's origin on the rod.
inline Item meat_at(TriangleMesh mesh, double at_m) {
    Seat seat;
    seat.at_m = at_m;
    return item_of(flesh_body(std::move(mesh), 2), seat);
}

/// A ball about the origin.
inline TriangleMesh ball(double radius, int n = 96) {
    return ellipsoid_mesh(radius, radius, radius, Vec3::Zero(), n, n / 2);
}

}  // namespace evenspit::test
