// SPDX-License-Identifier: MIT
#include "app/viewer/colour_map.h"

#include <cmath>

#include <gtest/gtest.h>

#include "geometry/types.h"

namespace evenspit::viewer {
namespace {

/// sRGB to CIELAB, written the other way round than the map is made: IEC 61966-2-1 and CIE 15, D65.
Vec3 lab(const Rgb8& rgb) {
    Vec3 linear;
    for (std::size_t i = 0; i < 3; ++i) {
        const double v = rgb[i] / 255.0;
        linear[static_cast<Eigen::Index>(i)] = v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
    }
    Mat3 to_xyz;
    to_xyz << 0.4124564, 0.3575761, 0.1804375,  //
        0.2126729, 0.7151522, 0.0721750,        //
        0.0193339, 0.1191920, 0.9503041;
    const Vec3 xyz = to_xyz * linear;
    const auto f = [](double t) { return t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116; };
    const double x = f(xyz[0] / 0.95047), y = f(xyz[1]), z = f(xyz[2] / 1.08883);
    return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

TEST(ColourMap, EqualStepsLookAlike) {
    const auto& map = colour_map();
    // A display's 256 levels leave up to about one unit of CIELAB beside the line.
    constexpr std::size_t stride = 15;
    const double whole = (lab(map.back()) - lab(map.front())).norm();
    EXPECT_GT(whole, 130) << "far apart at the ends";
    for (std::size_t i = 0; i + stride < map.size(); i += stride) {
        const double step = (lab(map[i + stride]) - lab(map[i])).norm();
        EXPECT_NEAR(step, whole * stride / (map_colours - 1), 1.2) << i;
    }
}

TEST(ColourMap, LightnessAloneTellsTheOrder) {
    const auto& map = colour_map();
    for (std::size_t i = 1; i < map.size(); ++i) EXPECT_GE(lab(map[i])[0], lab(map[i - 1])[0] - 0.1) << i;
    for (std::size_t i = 8; i < map.size(); i += 8) EXPECT_GT(lab(map[i])[0], lab(map[i - 8])[0] + 1) << i;
    EXPECT_LT(lab(map.front())[0], 31);
    EXPECT_GT(lab(map.back())[0], 91);
}

TEST(ColourMap, GoesFromBlueToYellow) {
    const auto& map = colour_map();
    for (std::size_t i = 1; i < map.size(); ++i) {
        EXPECT_GE(map[i][1], map[i - 1][1]) << "green grows: " << i;
        EXPECT_LE(map[i][2], map[i - 1][2] + 1) << "blue goes: " << i;
    }
}

TEST(ColourMap, FindsTheColourOfAValue) {
    const auto& map = colour_map();
    EXPECT_EQ(colour_in_map(2, 2, 4), map.front());
    EXPECT_EQ(colour_in_map(4, 2, 4), map.back());
    EXPECT_EQ(colour_in_map(-7, 2, 4), map.front());
    EXPECT_EQ(colour_in_map(7, 2, 4), map.back());
    EXPECT_EQ(colour_in_map(2 + 2 * 51.0 / 255, 2, 4), map[51]);
    EXPECT_EQ(colour_in_map(3, 3, 3), map.front()) << "a range without size";
}

}  // namespace
}  // namespace evenspit::viewer
