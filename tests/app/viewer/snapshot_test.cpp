// SPDX-License-Identifier: MIT
// Pictures of the demo loads, judged by what is where: colours of regions with tolerances, not pixels.
#include <algorithm>
#include <array>
#include <cmath>
#include <png.h>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/viewer/layout.h"
#include "app/viewer/view.h"
#include "geometry/mesh_io.h"
#include "support/meshes.h"
#include "support/temporary_folder.h"
#include "units/error.h"

namespace evenspit::viewer {
namespace {

using testing::HasSubstr;

constexpr const char* models = EVENSPIT_SOURCE_DIR "/models";
constexpr const char* samples = EVENSPIT_SOURCE_DIR "/samples/";

struct Picture {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgb;

    [[nodiscard]] std::array<int, 3> at(int x, int y) const {
        const std::size_t i =
            (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)) * 3;
        return {rgb[i], rgb[i + 1], rgb[i + 2]};
    }
    /// Share of an area's pixels for which something holds.
    template <typename Holds>
    [[nodiscard]] double share(const Area& area, const Holds& holds) const {
        int all = 0, yes = 0;
        for (int y = int(area.y); y < int(area.y + area.height); ++y) {
            for (int x = int(area.x); x < int(area.x + area.width); ++x) {
                ++all;
                const auto [r, g, b] = at(x, y);
                yes += holds(r, g, b) ? 1 : 0;
            }
        }
        return static_cast<double>(yes) / all;
    }
};

Picture decoded(const std::string& bytes) {
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    EXPECT_NE(png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()), 0) << image.message;
    image.format = PNG_FORMAT_RGB;
    Picture picture{static_cast<int>(image.width), static_cast<int>(image.height), {}};
    picture.rgb.resize(PNG_IMAGE_SIZE(image));
    EXPECT_NE(png_image_finish_read(&image, nullptr, picture.rgb.data(), 0, nullptr), 0) << image.message;
    return picture;
}

Picture picture_of(const std::string& sample, const Snapshot& what = {}) {
    return decoded(snapshot(samples + sample, models, what).png);
}

bool fleshy(int r, int g, int b) {
    return r > 120 && r - b > 45 && g > b && r > g;
}
bool glowing(int r, int g, int b) {
    return r > 150 && r - g > 60 && r - b > 90;
}
bool paper(int r, int g, int b) {
    return r > 240 && g > 240 && b > 235;
}

TEST(Picture, ShowsTheTurkeyOverGlowingCoalsBesideThePanels) {
    const Picture picture = picture_of("harvest-turkey.toml");
    ASSERT_EQ(picture.width, 1280);
    ASSERT_EQ(picture.height, 720);
    const Layout layout = layout_of({1280, 720}, 1);
    const Area& scene = layout.scene;
    const Area middle{scene.x + 0.35 * scene.width, scene.y + 0.25 * scene.height, 0.3 * scene.width,
                      0.3 * scene.height};
    const Area below{scene.x + 0.3 * scene.width, scene.y + 0.62 * scene.height, 0.4 * scene.width,
                     0.3 * scene.height};
    EXPECT_NEAR(picture.share(middle, fleshy), 0.45, 0.20);
    EXPECT_LT(picture.share(below, fleshy), 0.30);
    EXPECT_GT(picture.share(below, glowing), 0.01);
    EXPECT_EQ(picture.share(middle, glowing), 0);
    EXPECT_GT(picture.share(layout.side, paper), 0.6);
    EXPECT_LT(picture.share(scene, paper), 0.1);
}

TEST(Picture, OfTheSameLoadIsTheSame) {
    EXPECT_EQ(snapshot(std::string(samples) + "harvest-turkey.toml", models, {}).png,
              snapshot(std::string(samples) + "harvest-turkey.toml", models, {}).png);
}

TEST(Picture, TellsItsVerdictInColour) {
    const Layout layout = layout_of({1280, 720}, 1);
    // The mark beside the verdict's word.
    const Area mark{layout.side.x + 24, layout.side.y + 50, 36, 60};
    const auto red = [](int r, int g, int b) { return r > 160 && g < 90 && b < 60; };
    const auto amber = [](int r, int g, int b) { return r > 120 && r < 165 && g > 65 && g < 100 && b < 40; };
    const auto blue = [](int r, int g, int b) { return r < 60 && g > 90 && b > 110; };
    EXPECT_GT(picture_of("everything-wrong.toml").share(mark, red), 0.1);
    EXPECT_GT(picture_of("harvest-turkey.toml").share(mark, amber), 0.1);
    EXPECT_GT(picture_of("harvest-turkey-mended.toml").share(mark, blue), 0.1);
    EXPECT_EQ(snapshot(std::string(samples) + "everything-wrong.toml", models, {}).verdict, Level::stop);
}

TEST(Picture, ShowsBonesThroughTheSkin) {
    const auto bony = [](int r, int g, int b) {
        return r > 185 && g > 175 && b > 140 && r - b < 60 && r >= g && r - b > 8;
    };
    const Area& scene = layout_of({1280, 720}, 1).scene;
    const Area middle{scene.x + 0.38 * scene.width, scene.y + 0.3 * scene.height, 0.25 * scene.width,
                      0.25 * scene.height};
    const double outside = picture_of("harvest-turkey.toml").share(middle, bony);
    const double inside = picture_of("harvest-turkey.toml", {.inside = true}).share(middle, bony);
    EXPECT_GT(inside, outside + 0.05);
}

TEST(Picture, ColoursTheSkinFromBlueAtTheRodToYellowFarFromIt) {
    // The dark end is seen through the sweep's veil, between the legs; the light end is the breast.
    const auto violet = [](int r, int g, int b) { return b > g + 20 && r > g + 5 && b > 110; };
    const auto yellow = [](int r, int g, int b) { return r > 190 && g > r - 32 && b < g - 60; };
    const auto raw = [](int r, int g, int b) { return r > 200 && r - g > 35 && g - b > 25; };
    const Area& scene = layout_of({1280, 720}, 1).scene;
    const Area middle{scene.x + 0.25 * scene.width, scene.y + 0.2 * scene.height, 0.45 * scene.width,
                      0.5 * scene.height};
    const Picture plain = picture_of("harvest-turkey.toml");
    const Picture coloured = picture_of("harvest-turkey.toml", {.colouring = Colouring::radius});
    EXPECT_EQ(plain.share(middle, violet), 0);
    EXPECT_GT(coloured.share(middle, violet), 0.008);
    EXPECT_LT(plain.share(middle, yellow), 0.001);
    EXPECT_GT(coloured.share(middle, yellow), 0.05);
    EXPECT_GT(plain.share(middle, raw), 0.05);
    EXPECT_LT(coloured.share(middle, raw), 0.01);
}

TEST(Picture, ShowsStrikesInRedAndNothingRedWhereAllClears) {
    const auto red = [](int r, int g, int b) { return r > 150 && r - g > 60 && r - b > 60 && g - b < 45; };
    const Area& scene = layout_of({1280, 720}, 1).scene;
    // The left part of the sweep reaches into the cooker's wall; no coal is there.
    const Area left{scene.x + 0.30 * scene.width, scene.y + 0.2 * scene.height, 0.12 * scene.width,
                    0.4 * scene.height};
    EXPECT_GT(picture_of("everything-wrong.toml").share(left, red), 0.05);
    EXPECT_LT(picture_of("harvest-turkey-mended.toml").share(left, red), 0.01);
}

TEST(Picture, FromAboveAndBelowTheCookerIsCutOpen) {
    const Area& scene = layout_of({1280, 720}, 1).scene;
    const Area middle{scene.x + 0.4 * scene.width, scene.y + 0.4 * scene.height, 0.15 * scene.width,
                      0.2 * scene.height};
    for (const StandardView view : {StandardView::above, StandardView::below})
        EXPECT_GT(picture_of("harvest-turkey.toml", {.from = view}).share(middle, fleshy), 0.25)
            << view_name(view) << ": neither lid nor coals hide the load";
}

TEST(Picture, ASectionShowsMeatAndBoneOfTheCutFace) {
    // From the point's end the cut lies before the eye.
    const auto meat = [](int r, int g, int b) {
        return std::abs(r - 196) < 6 && std::abs(g - 125) < 6 && std::abs(b - 114) < 6;
    };
    const auto bone = [](int r, int g, int b) {
        return std::abs(r - 236) < 4 && std::abs(g - 229) < 4 && std::abs(b - 211) < 4;
    };
    const Area& scene = layout_of({1280, 720}, 1).scene;
    const Area middle{scene.x + 0.35 * scene.width, scene.y + 0.2 * scene.height, 0.3 * scene.width,
                      0.5 * scene.height};
    const Snapshot whole{.from = StandardView::point_end};
    Snapshot cut = whole;
    cut.section = true;
    const Picture open = picture_of("harvest-turkey.toml", cut);
    EXPECT_GT(open.share(middle, meat), 0.05);
    EXPECT_GT(open.share(middle, bone), 0.001);
    EXPECT_LT(picture_of("harvest-turkey.toml", whole).share(middle, meat), 0.01);
    // In colours the cut has those of the quantity: near the rod the dark end of the map.
    cut.colouring = Colouring::radius;
    const auto violet = [](int r, int g, int b) { return b > g + 20 && r > g + 5 && b > 80; };
    const Picture coloured = picture_of("harvest-turkey.toml", cut);
    EXPECT_LT(coloured.share(middle, meat), 0.005);
    EXPECT_GT(coloured.share(middle, violet), 0.008);
}

TEST(Picture, TurnsWithTheAngle) {
    const Picture start = picture_of("harvest-turkey.toml"),
                  half = picture_of("harvest-turkey.toml", {.turn_rad = 3.14});
    const Area& scene = layout_of({1280, 720}, 1).scene;
    int changed = 0, all = 0;
    for (int y = int(scene.y); y < int(scene.y + scene.height); y += 2) {
        for (int x = int(scene.x); x < int(scene.x + scene.width); x += 2) {
            ++all;
            if (std::abs(start.at(x, y)[0] - half.at(x, y)[0]) > 12) ++changed;
        }
    }
    EXPECT_GT(changed, all / 50);
    EXPECT_LT(changed, all / 2) << "cooker and motor stay";
}

TEST(Picture, ComesInAnySize) {
    const Picture picture =
        picture_of("harvest-turkey.toml", {.size = {1920, 1200}, .scale = 1.5, .tab = Tab::figures});
    EXPECT_EQ(picture.width, 1920);
    EXPECT_EQ(picture.height, 1200);
}

TEST(Picture, OfAScanWhoseUnitNobodyKnowsAsksForIt) {
    const evenspit::test::TemporaryFolder folder;
    const auto scan = folder / "bird.obj";
    const Snapshot small{.size = {480, 360}};
    // 30 long: centimetres, or inches.
    write_mesh(scan, evenspit::test::ellipsoid_mesh(15, 8, 7, Vec3::Zero()));
    try {
        static_cast<void>(snapshot(scan, models, small));
        FAIL() << "drawn at a size that nobody knows";
    } catch (const InputError& error) {
        EXPECT_THAT(error.what(), HasSubstr("this looks like centimetres or inches: name the unit"));
    }
    Snapshot told = small;
    told.scan_unit = "cm";
    EXPECT_EQ(snapshot(scan, models, told).told, "");
    // 0.3 long: only metres make a roast of it, which is told.
    write_mesh(scan, evenspit::test::ellipsoid_mesh(0.15, 0.08, 0.07, Vec3::Zero()));
    EXPECT_THAT(snapshot(scan, models, small).told, HasSubstr("taken as metres"));
}

TEST(Picture, OfABadLoadIsNone) {
    EXPECT_THROW(static_cast<void>(snapshot("no-such.toml", models, {})), InputError);
}

}  // namespace
}  // namespace evenspit::viewer
