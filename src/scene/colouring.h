// SPDX-License-Identifier: MIT
#pragma once

#include "scene/scene.h"

namespace evenspit::scene {

/// Gives every corner of the items' skin its distance from the rod's axis, m, and the scene a field of that
/// name whose range they fill. A scene without skin has no field.
void colour_by_radius(Scene& scene);

}  // namespace evenspit::scene
