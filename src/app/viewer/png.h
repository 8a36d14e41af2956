// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "app/viewer/window_system.h"

namespace evenspit::viewer {

/// A picture as the bytes of a PNG file.
///
/// \param pixels RGB, rows from the top
/// \pre three bytes for each pixel of the size
std::string png_bytes(const std::vector<std::uint8_t>& pixels, Extent size);

}  // namespace evenspit::viewer
