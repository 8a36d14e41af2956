// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "scene/scene.h"

namespace evenspit::scene {

/// What a field is at a place of the load, SI; rod frame at turn 0. Temperatures only where there is a body,
/// 0 elsewhere; heat over the skin is known by its corners alone, see told_value().
double field_value(const Field& field, const Vec3& at);

/// What the colours of a scene tell at a place of an item, SI; rod frame at turn 0. Nothing where they tell
/// nothing.
std::optional<double> told_value(const Scene& scene, const Vec3& at);

/// What each corner of a drawn skin took up of heat, as a share of the mean over the skin; 1 along hollows,
/// of which nothing is known.
///
/// \param j_m2 by triangle of the mesh; see HeatCells::skin_j_m2
/// \param corner_of by vertex of the mesh; see traced_mesh()
std::vector<float> heat_at_corners(const TriangleMesh& mesh, const std::vector<float>& j_m2,
                                   const std::vector<std::uint32_t>& corner_of, std::size_t corners);

/// How far from the axis the load may reach at evenly spaced stations until it meets the cooker, sag counted:
/// (station, distance), m. Stations without a wall beside them have the most of all; empty without walls.
///
/// \param walls see axis_distance()
std::vector<Vec2> free_reach(const Clearance& clearance, const RodResult& rod, double rod_length_m,
                             const std::vector<std::vector<Vec2>>& walls);

/// Gives every corner of the items' skin what the field is there, but for those that have values, and the
/// field the range that they fill, if it has none; it becomes the scene's. A scene without skin has no field.
void colour_skin(Scene& scene, Field field);

}  // namespace evenspit::scene
