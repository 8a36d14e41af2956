// SPDX-License-Identifier: MIT
// Inside of read_mesh(): which points of a file are one. Not for other rooms.
#pragma once

#include <cstdint>
#include <vector>

#include "geometry/mesh.h"

namespace evenspit::mesh_readers {

/// A point that no triangle names.
inline constexpr std::uint32_t not_named = 0xffffffff;

/// For each point that a triangle names the number of the first that lies at exactly the same place, its own
/// where it is the first; −0 is 0. A point that is not finite lies nowhere: it is like no other.
std::vector<std::uint32_t> first_at_each_place(const std::vector<Vec3>& points,
                                               const std::vector<Triangle>& triangles);

}  // namespace evenspit::mesh_readers
