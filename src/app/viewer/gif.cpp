// SPDX-License-Identifier: MIT
#include "app/viewer/gif.h"

#include <gif_lib.h>
#include <memory>
#include <stdexcept>

namespace evenspit::viewer {
namespace {

constexpr int most_colours = 256, bits_a_colour = 8;

struct MapFree {
    void operator()(ColorMapObject* map) const { GifFreeMapObject(map); }
};
using ColourMap = std::unique_ptr<ColorMapObject, MapFree>;

struct FileClose {
    void operator()(GifFileType* file) const {
        int ignored = 0;
        EGifCloseFile(file, &ignored);
    }
};
using GifFile = std::unique_ptr<GifFileType, FileClose>;

void check(int result) {
    if (result == GIF_ERROR) throw std::runtime_error("a GIF cannot be made: no room");
}

int append(GifFileType* file, const GifByteType* bytes, int count) {
    static_cast<std::string*>(file->UserData)
        ->append(reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(count));
    return count;
}

ColourMap map_of(const GifPicture& picture) {
    ColourMap map(GifMakeMapObject(most_colours, nullptr));
    if (!map) check(GIF_ERROR);
    for (std::size_t i = 0; i < picture.colours.size(); ++i)
        map->Colors[i] = {picture.colours[i][0], picture.colours[i][1], picture.colours[i][2]};
    return map;
}

/// It begins again at its end: an application's block that all programs know.
void put_loop(GifFileType* file) {
    constexpr int times = 0;  // for ever
    const std::array<GifByteType, 3> again{1, times, times};
    check(EGifPutExtensionLeader(file, APPLICATION_EXT_FUNC_CODE));
    check(EGifPutExtensionBlock(file, 11, "NETSCAPE2.0"));
    check(EGifPutExtensionBlock(file, static_cast<int>(again.size()), again.data()));
    check(EGifPutExtensionTrailer(file));
}

void put_picture(GifFileType* file, const GifPicture& picture, Extent size, int hundredths) {
    const GraphicsControlBlock shown{DISPOSE_DO_NOT, false, hundredths, NO_TRANSPARENT_COLOR};
    std::array<GifByteType, 4> block{};
    EGifGCBToExtension(&shown, block.data());
    check(EGifPutExtension(file, GRAPHICS_EXT_FUNC_CODE, static_cast<int>(block.size()), block.data()));
    const ColourMap map = map_of(picture);
    check(EGifPutImageDesc(file, 0, 0, size.width, size.height, false, map.get()));
    const auto width = static_cast<std::size_t>(size.width);
    for (std::size_t y = 0; y < static_cast<std::size_t>(size.height); ++y) {
        std::vector<GifPixelType> row(picture.pixels.begin() + static_cast<std::ptrdiff_t>(y * width),
                                      picture.pixels.begin() + static_cast<std::ptrdiff_t>((y + 1) * width));
        check(EGifPutLine(file, row.data(), size.width));
    }
}

}  // namespace

GifPicture in_few_colours(const std::vector<std::uint8_t>& pixels, Extent size) {
    const std::size_t count = pixels.size() / 3;
    std::array<std::vector<GifByteType>, 3> parts;
    for (std::size_t part = 0; part < parts.size(); ++part) {
        parts[part].reserve(count);
        for (std::size_t i = part; i < pixels.size(); i += 3) parts[part].push_back(pixels[i]);
    }
    GifPicture picture;
    picture.pixels.resize(count);
    std::array<GifColorType, most_colours> colours{};
    int found = most_colours;
    check(GifQuantizeBuffer(static_cast<unsigned>(size.width), static_cast<unsigned>(size.height), &found,
                            parts[0].data(), parts[1].data(), parts[2].data(), picture.pixels.data(),
                            colours.data()));
    for (const GifColorType& c : colours) picture.colours.push_back({c.Red, c.Green, c.Blue});
    return picture;
}

std::string gif_bytes(const std::vector<GifPicture>& pictures, Extent size, int hundredths) {
    std::string bytes;
    int error = 0;
    GifFile file(EGifOpen(&bytes, append, &error));
    if (!file) check(GIF_ERROR);
    EGifSetGifVersion(file.get(), true);
    check(EGifPutScreenDesc(file.get(), size.width, size.height, bits_a_colour, 0, nullptr));
    put_loop(file.get());
    for (const GifPicture& picture : pictures) put_picture(file.get(), picture, size, hundredths);
    file.reset();  // writes the end
    return bytes;
}

}  // namespace evenspit::viewer
