// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "app/viewer/window_system.h"

namespace evenspit::viewer {

/// A picture in no more than 256 colours.
struct GifPicture {
    std::vector<std::uint8_t> pixels;  ///< numbers of colours, rows from the top
    std::vector<std::array<std::uint8_t, 3>> colours;
};

/// A picture in the 256 colours that suit it best.
///
/// \param pixels RGB, rows from the top
/// \pre three bytes for each pixel of the size
/// \throws std::runtime_error if there is no room
GifPicture in_few_colours(const std::vector<std::uint8_t>& pixels, Extent size);

/// A film that begins again at its end, as the bytes of a GIF file.
///
/// \param hundredths how long each picture is shown, hundredths of a second
/// \throws std::runtime_error if there is no room
std::string gif_bytes(const std::vector<GifPicture>& pictures, Extent size, int hundredths);

}  // namespace evenspit::viewer
