// SPDX-License-Identifier: MIT
// A sheet of paper as a value: what is drawn where, in points of 1/72 inch, y downward. Grey is 0 for black
// and 1 for white: a card must be read in black and white.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "geometry/types.h"
#include "report/picture.h"

namespace evenspit::card {

/// How wide a text is, pt. The text is printable UTF-8.
using MeasureText = std::function<double(std::string_view text, double size_pt, bool bold)>;

/// Of the height of letters: how far their room reaches above and below the line they stand on.
inline constexpr double above_line = 0.80, below_line = 0.24;

struct Stroke {
    double width_pt = 0.8;
    double grey = 0;
    bool dashed = false;
};

/// Lines through points, in one or several rings; filled by the even-odd rule.
struct SheetPath {
    std::vector<std::vector<Vec2>> rings;
    bool closed = false;
    std::optional<double> fill_grey{};
    std::optional<Stroke> stroke{};
};

/// One line of text; its room is what nothing else may be written into.
struct SheetText {
    Frame room;
    std::string text;
    double size_pt = 10;
    bool bold = false;
    double grey = 0;
    double anchor =
        0;  ///< where it is held if letters turn out wider or narrower: 0 left, 0.5 middle, 1 right

    /// The line that the letters stand on.
    [[nodiscard]] double line_y() const { return room.y + above_line * size_pt; }
};

using SheetShape = std::variant<SheetPath, SheetText>;

struct Sheet {
    double width_pt = 0, height_pt = 0;
    std::vector<SheetShape> shapes;  ///< in the order in which they are drawn

    void line(const Vec2& a, const Vec2& b, const Stroke& stroke = {});
    void rectangle(const Frame& frame, std::optional<double> fill_grey, std::optional<Stroke> stroke);
    void circle(const Vec2& centre, double radius, std::optional<double> fill_grey,
                std::optional<Stroke> stroke);
    /// Text that begins at x, ends there or has its middle there (anchor 0, 1, 0.5), on the line y.
    ///
    /// \return the room it takes
    Frame text(const MeasureText& measure, const Vec2& at, double anchor, std::string_view text,
               double size_pt, bool bold = false, double grey = 0);
    /// Draws another sheet onto this one, moved by `by`.
    void add(const Sheet& other, const Vec2& by);
};

/// A text in lines no wider than asked for, broken at spaces, though not between a figure and its unit; a
/// word that is wider than a line is cut.
std::vector<std::string> lines_of(const MeasureText& measure, std::string_view text, double size_pt,
                                  bool bold, double width_pt);

/// The text, cut with "…" at its end where it is wider than asked for.
std::string cut_to(const MeasureText& measure, std::string_view text, double size_pt, bool bold,
                   double width_pt);

}  // namespace evenspit::card
