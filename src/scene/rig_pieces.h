// SPDX-License-Identifier: MIT
// What of a load is of metal, and what stands round it, as pieces to be drawn.
#pragma once

#include <vector>

#include "scene/scene.h"

namespace evenspit::scene {

/// How thick the walls of a cooker are drawn, which load files do not tell.
inline constexpr double wall_thickness_m = 0.014;

Piece rod_piece(const Rod& rod);

/// The motor at the drive end, and the two supports.
void add_motor(const Assembly& assembly, std::vector<Piece>& pieces);

/// A fork, a bracket or a basket.
Piece fork_piece(const Fork& fork, std::size_t index, const Rod& rod);

Piece weight_piece(const Counterweight& weight, std::size_t index, const Rod& rod);

/// Where on the rod a cooker's middle is: over its fire, else under the middle of a usual rod.
Vec3 over_the_fire(const Cooker& cooker);

/// A surface of the cooker; coals as a bank. \param face of a plane, what is left of it between the others
std::vector<Piece> surface_pieces(const CookerSurface& surface, std::size_t index,
                                  const std::vector<Vec3>& face);

}  // namespace evenspit::scene
