// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "analysis/results.h"
#include "load/assembly.h"

namespace evenspit::card {

/// Triangles of a load, small enough to stand in a page: what turns and what is beside it, but the walls that
/// would hide it.
///
/// `bytes` holds the corners, 14 bytes each: x, y, z as signed 16-bit numbers times `scale_m` from `middle`
/// (world frame at turn angle 0, m), the normal as three signed bytes over 127, one byte that is 1 where it
/// turns with the rod, the colour as red, green, blue, one byte that is 0; then the triangles, three 32-bit
/// numbers of corners each. All little-endian.
struct ModelPicture {
    std::string bytes;
    std::size_t corners = 0, triangles = 0;
    double scale_m = 1;
    Vec3 middle = Vec3::Zero();
    double reach_m = 0;  ///< from the middle to the furthest corner
};

/// \param most_triangles of all that is roasted, about
ModelPicture model_picture(const Assembly& load, const Analysis& analysis,
                           std::size_t most_triangles = 18'000);

/// A picture of it: red, green, blue a byte each, row by row from the upper left.
struct Still {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgb;
};

/// The model as it is first seen in the page, from the front and somewhat above, on white; the same in every
/// run.
Still still_of(const ModelPicture& model, int width, int height);

}  // namespace evenspit::card
