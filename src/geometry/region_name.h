// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

namespace evenspit {

/// The region by which a PLY tells the walls of hollows from skin that a camera can see.
inline constexpr std::string_view cavity_wall_region = "cavity wall";

}  // namespace evenspit
