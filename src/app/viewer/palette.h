// SPDX-License-Identifier: MIT
#pragma once

namespace evenspit::viewer {

/// What letters and lines are drawn with. Levels never go by colour alone: a word or a shape stands beside
/// it.
enum class Ink { plain, faint, strong, accent, ready, care, stop, pinned, paper, sheet, veil, line };

/// Light as by day, or dark.
enum class Theme { light, dark };

/// A colour as displays show it (sRGB), 0 … 255.
struct Rgb {
    int r = 0, g = 0, b = 0;
    bool operator==(const Rgb&) const = default;
};

Rgb colour(Ink ink, Theme theme);

/// How much light a colour gives, 0 for black to 1 for white (relative luminance, WCAG 2.2).
double luminance(Rgb colour);

/// How well letters stand out from their ground, 1 to 21 (contrast ratio, WCAG 2.2).
double contrast(Rgb letters, Rgb ground);

/// What letters need at least (WCAG 2.2, level AA).
inline constexpr double least_contrast = 4.5;

/// A colour seen through another.
///
/// \param opacity of the upper one, 0 … 1
Rgb laid_over(Rgb upper, double opacity, Rgb ground);

}  // namespace evenspit::viewer
