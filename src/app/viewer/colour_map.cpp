// SPDX-License-Identifier: MIT
#include "app/viewer/colour_map.h"

#include <algorithm>
#include <cmath>

#include "geometry/types.h"

namespace evenspit::viewer {
namespace {

// The ends in CIELAB: as far apart as a display can show in a straight line, to within a few units.
const Vec3 dark_blue(30, 35, -65), light_yellow(92, -10, 75);

/// CIELAB to sRGB: CIE 15 for XYZ, IEC 61966-2-1 for the display.
Rgb8 displayed(const Vec3& lab) {
    constexpr double knee = 6.0 / 29;
    const auto inverse = [](double f) { return f > knee ? f * f * f : 3 * knee * knee * (f - 4.0 / 29); };
    const double fy = (lab[0] + 16) / 116;
    const Vec3 white(0.95047, 1, 1.08883);  // D65
    const Vec3 xyz =
        white.cwiseProduct(Vec3(inverse(fy + lab[1] / 500), inverse(fy), inverse(fy - lab[2] / 200)));
    Mat3 to_rgb;
    to_rgb << 3.2404542, -1.5371385, -0.4985314,  //
        -0.9692660, 1.8760108, 0.0415560,         //
        0.0556434, -0.2040259, 1.0572252;
    const Vec3 linear = to_rgb * xyz;
    Rgb8 rgb{};
    for (std::size_t i = 0; i < 3; ++i) {
        const double v = std::clamp(linear[static_cast<Eigen::Index>(i)], 0.0, 1.0);
        const double shown = v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055;
        rgb[i] = static_cast<std::uint8_t>(std::lround(255 * shown));
    }
    return rgb;
}

}  // namespace

const std::array<Rgb8, map_colours>& colour_map() {
    static const std::array<Rgb8, map_colours> map = [] {
        std::array<Rgb8, map_colours> made{};
        for (std::size_t i = 0; i < map_colours; ++i) {
            const double share = static_cast<double>(i) / (map_colours - 1);
            made[i] = displayed(dark_blue + share * (light_yellow - dark_blue));
        }
        return made;
    }();
    return map;
}

Rgb8 colour_in_map(double value, double from, double to) {
    const double share = to > from ? std::clamp((value - from) / (to - from), 0.0, 1.0) : 0;
    return colour_map()[static_cast<std::size_t>(std::lround(share * (map_colours - 1)))];
}

}  // namespace evenspit::viewer
