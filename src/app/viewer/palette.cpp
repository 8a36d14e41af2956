// SPDX-License-Identifier: MIT
#include "app/viewer/palette.h"

#include <algorithm>
#include <cmath>

namespace evenspit::viewer {
namespace {

// Levels after M. Okabe and K. Ito, "Color Universal Design" (2008), made darker for letters on a light
// ground and lighter on a dark one until they stand out from it and from their own tint.

Rgb by_day(Ink ink) {
    switch (ink) {
        case Ink::plain:
            return {44, 42, 40};
        case Ink::faint:
            return {94, 90, 84};
        case Ink::strong:
            return {14, 13, 12};
        case Ink::accent:
            return {12, 88, 108};
        case Ink::ready:
            return {0, 100, 124};
        case Ink::care:
            return {142, 82, 0};
        case Ink::stop:
            return {176, 44, 12};
        case Ink::pinned:
            return {110, 78, 134};
        case Ink::paper:
            return {250, 249, 246};
        case Ink::sheet:
            return {255, 255, 255};
        case Ink::veil:
            return {228, 225, 218};
        case Ink::line:
            return {196, 191, 182};
    }
    return {};
}

Rgb by_night(Ink ink) {
    switch (ink) {
        case Ink::plain:
            return {224, 222, 217};
        case Ink::faint:
            return {178, 175, 169};
        case Ink::strong:
            return {250, 249, 246};
        case Ink::accent:
            return {112, 202, 224};
        case Ink::ready:
            return {104, 198, 222};
        case Ink::care:
            return {242, 184, 84};
        case Ink::stop:
            return {255, 146, 118};
        case Ink::pinned:
            return {206, 176, 230};
        case Ink::paper:
            return {32, 33, 35};
        case Ink::sheet:
            return {24, 25, 27};
        case Ink::veil:
            return {54, 56, 59};
        case Ink::line:
            return {92, 94, 97};
    }
    return {};
}

double linear(int part) {
    const double share = part / 255.0;
    return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
}

}  // namespace

Rgb colour(Ink ink, Theme theme) {
    return theme == Theme::dark ? by_night(ink) : by_day(ink);
}

double luminance(Rgb colour) {
    return 0.2126 * linear(colour.r) + 0.7152 * linear(colour.g) + 0.0722 * linear(colour.b);
}

double contrast(Rgb letters, Rgb ground) {
    const double a = luminance(letters), b = luminance(ground);
    return (std::max(a, b) + 0.05) / (std::min(a, b) + 0.05);
}

Rgb laid_over(Rgb upper, double opacity, Rgb ground) {
    const auto mixed = [opacity](int top, int under) {
        return static_cast<int>(std::lround(opacity * top + (1 - opacity) * under));
    };
    return {mixed(upper.r, ground.r), mixed(upper.g, ground.g), mixed(upper.b, ground.b)};
}

}  // namespace evenspit::viewer
