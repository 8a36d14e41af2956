// SPDX-License-Identifier: MIT
// Fields of values in colours, as SVG.
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "geometry/types.h"

namespace evenspit {

/// A value for each of many squares, row by row from the bottom, from the left within a row; NaN where there
/// is nothing.
struct HeatField {
    std::array<std::size_t, 2> count{};  ///< across, up
    std::vector<double> values;

    [[nodiscard]] double at(std::size_t across, std::size_t up) const {
        return values[across + count[0] * up];
    }
    /// The share of the field that has values, as its first squares and those past its last ones.
    struct Window {
        std::array<std::size_t, 2> from{}, to{};
    };
    [[nodiscard]] Window window() const;
    /// The field in squares of so many by so many, each the mean of what is there.
    [[nodiscard]] HeatField coarser(std::size_t by) const;
};

/// Whole multiples of a step that a range of values is cut into. Each has a colour: dark for the least, light
/// for the greatest, of one hue, so that their order shows to eyes that tell no colours apart, and in print.
struct HeatBands {
    double from = 0, step = 1;
    std::size_t count = 1;

    /// \pre finite, least ≤ most, step > 0
    static HeatBands over(double least, double most, double step);
    [[nodiscard]] double to() const { return from + step * double(count); }
    [[nodiscard]] std::size_t of(double value) const;
    /// "#c0ffee"
    [[nodiscard]] std::string colour(std::size_t band) const;
};

/// The field with its lower left corner at a place, in pixels, y downward; equal colours that lie side by
/// side in a row are one line.
std::string field_svg(const HeatField& field, const HeatBands& bands, const Vec2& corner,
                      const Vec2& square_px);

/// Where values between the squares' middles pass a level, as pieces of a line in squares from the lower left
/// corner, y up.
std::vector<std::array<Vec2, 2>> level_line(const HeatField& field, double level);

/// Such pieces on the picture, dark on a light rim, so that they show on every colour.
std::string level_svg(const std::vector<std::array<Vec2, 2>>& pieces, const Vec2& corner,
                      const Vec2& square_px);

}  // namespace evenspit
