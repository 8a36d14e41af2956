// SPDX-License-Identifier: MIT
#include "app/viewer/png.h"

#include <png.h>
#include <stdexcept>

namespace evenspit::viewer {

std::string png_bytes(const std::vector<std::uint8_t>& pixels, Extent size) {
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    image.width = static_cast<png_uint_32>(size.width);
    image.height = static_cast<png_uint_32>(size.height);
    image.format = PNG_FORMAT_RGB;
    png_alloc_size_t bytes = 0;
    std::string file;
    // The first call tells how much room is needed.
    if (png_image_write_to_memory(&image, nullptr, &bytes, 0, pixels.data(), 0, nullptr) != 0) {
        file.resize(bytes);
        if (png_image_write_to_memory(&image, file.data(), &bytes, 0, pixels.data(), 0, nullptr) != 0) {
            file.resize(bytes);
            return file;
        }
    }
    throw std::runtime_error(std::string("cannot make a PNG: ") + image.message);
}

}  // namespace evenspit::viewer
