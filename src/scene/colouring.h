// SPDX-License-Identifier: MIT
#pragma once

#include "scene/scene.h"

namespace evenspit::scene {

/// What a field is at a place of the load, SI; rod frame at turn 0.
double field_value(const Field& field, const Vec3& at);

/// How far from the axis the load may reach at evenly spaced stations until it meets the cooker, sag counted:
/// (station, distance), m. Stations without a wall beside them have the most of all; empty without walls.
///
/// \param walls see axis_distance()
std::vector<Vec2> free_reach(const Clearance& clearance, const RodResult& rod, double rod_length_m,
                             const std::vector<std::vector<Vec2>>& walls);

/// Gives every corner of the items' skin what the field is there, and the field the range that they fill; it
/// becomes the scene's. A scene without skin has no field.
void colour_skin(Scene& scene, Field field);

}  // namespace evenspit::scene
