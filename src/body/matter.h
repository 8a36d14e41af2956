// SPDX-License-Identifier: MIT
#pragma once

#include "geometry/mesh.h"

namespace evenspit::body {

/// What changes in a body while it cooks, at one moment: a value beside the body, which stays as it is. A
/// lighter or softer body needs no new search trees.
struct Matter {
    double mass_kg = 0;
    Vec3 centre = Vec3::Zero();      ///< of mass, item frame, m
    double bearing_strength_pa = 0;  ///< of its flesh under a tine
};

}  // namespace evenspit::body
