// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "report/heat_field.h"
#include "report/picture.h"
#include "report/text_layout.h"

namespace evenspit {

// Pixels. Narrow, so that letters can still be read where the picture fills a phone.
inline constexpr double sheet_width = 520, sheet_side = 12, line_high = 17;

/// A sheet of an SVG document that grows downward: coloured fields under lines and words.
class HeatSheet {
  public:
    [[nodiscard]] double y() const { return y_; }
    void down(double px) { y_ += px; }

    PictureText text(double x, double y, double anchor, const std::string& words, Role role = Role::plain,
                     Lettering lettering = Lettering::small) {
        const Vec2 size = svg_letters(words, lettering);
        return {{x - anchor * size.x(), y, size.x(), size.y()}, anchor, words, role, lettering};
    }
    void put(PictureText words) { picture_.emplace_back(std::move(words)); }
    void put(Shape shape) { picture_.push_back(std::move(shape)); }
    /// A paragraph that is wrapped to the sheet.
    void paragraph(const std::string& words, Role role = Role::plain,
                   Lettering lettering = Lettering::small) {
        const double letter = svg_letters("0", lettering).x();
        for (const std::string& line :
             wrapped(printable(words), static_cast<int>((sheet_width - 2 * sheet_side) / letter))) {
            put(text(sheet_side, y_, 0, line, role, lettering));
            y_ += lettering == Lettering::title ? 21 : line_high;
        }
    }
    void under(const std::string& svg) { under_ += svg; }

    /// The colours of all bands side by side, some of their edges told.
    ///
    /// \param told every so many bands
    template <typename Words>
    void scale(const HeatBands& bands, std::size_t told, const Words& words) {
        constexpr double high = 12;
        y_ += 4;
        const double px = (sheet_width - 2 * sheet_side) / double(bands.count);
        HeatField colours{{bands.count, 1}, {}};
        for (std::size_t band = 0; band < bands.count; ++band)
            colours.values.push_back(bands.from + bands.step * (double(band) + 0.5));
        under(field_svg(colours, bands, {sheet_side, y_ + high}, {px, high}));
        double free_from = 0;
        for (std::size_t edge = 0; edge <= bands.count; ++edge) {
            const double value = bands.from + bands.step * double(edge);
            const double in_told = value / (bands.step * double(told));
            if (std::abs(in_told - std::round(in_told)) > 1e-6) continue;
            const double x = sheet_side + px * double(edge);
            PictureText label = text(x, y_ + high + 3, 0.5, words(value), Role::faint);
            label.frame.x = std::clamp(label.frame.x, 2.0, sheet_width - 2 - label.frame.width);
            if (label.frame.x < free_from) continue;
            free_from = label.frame.right() + 6;
            put(PictureLine{{{x, y_ + high}, {x, y_ + high + 4}}, Role::line, 1, 1});
            put(std::move(label));
        }
        y_ += high + 3 + line_high + 4;
    }

    [[nodiscard]] std::string document() const { return svg_document(picture_, sheet_width, y_ + 6, under_); }

  private:
    Picture picture_;
    std::string under_;
    double y_ = 8;
};

}  // namespace evenspit
