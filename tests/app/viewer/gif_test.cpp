// SPDX-License-Identifier: MIT
#include "app/viewer/gif.h"

#include <array>
#include <fstream>
#include <gif_lib.h>

#include <gtest/gtest.h>

#include "support/temporary_folder.h"

namespace evenspit::viewer {
namespace {

TEST(Gif, HoldsThePicturesInTheirColoursAndBeginsAgain) {
    constexpr Extent size{24, 10};
    const auto plain = [&](std::array<std::uint8_t, 3> left, std::array<std::uint8_t, 3> right) {
        std::vector<std::uint8_t> pixels;
        for (int y = 0; y < size.height; ++y) {
            for (int x = 0; x < size.width; ++x) {
                const auto& c = x < size.width / 2 ? left : right;
                pixels.insert(pixels.end(), c.begin(), c.end());
            }
        }
        return pixels;
    };
    const std::vector<std::vector<std::uint8_t>> shown{plain({200, 10, 10}, {10, 10, 200}),
                                                       plain({10, 200, 10}, {250, 250, 250})};
    std::vector<GifPicture> pictures;
    for (const auto& pixels : shown) pictures.push_back(in_few_colours(pixels, size));
    const test::TemporaryFolder folder;
    const auto file = folder.write("film.gif", gif_bytes(pictures, size, 5));
    int error = 0;
    GifFileType* const gif = DGifOpenFileName(file.c_str(), &error);
    ASSERT_NE(gif, nullptr) << error;
    ASSERT_EQ(DGifSlurp(gif), GIF_OK) << gif->Error;
    ASSERT_EQ(gif->ImageCount, 2);
    EXPECT_EQ(gif->SWidth, size.width);
    for (std::size_t p = 0; p < 2; ++p) {
        const SavedImage& image = gif->SavedImages[p];
        ASSERT_EQ(image.ImageDesc.Height, size.height);
        for (std::size_t i = 0; i < 240; ++i) {
            const GifColorType& c = image.ImageDesc.ColorMap->Colors[image.RasterBits[i]];
            EXPECT_NEAR(c.Red, shown[p][3 * i], 4);
            EXPECT_NEAR(c.Green, shown[p][3 * i + 1], 4);
            EXPECT_NEAR(c.Blue, shown[p][3 * i + 2], 4);
        }
        GraphicsControlBlock control;
        ASSERT_EQ(DGifSavedExtensionToGCB(gif, static_cast<int>(p), &control), GIF_OK);
        EXPECT_EQ(control.DelayTime, 5);
    }
    DGifCloseFile(gif, &error);
}

}  // namespace
}  // namespace evenspit::viewer
