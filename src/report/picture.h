// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "geometry/types.h"

namespace evenspit {

/// What something on a picture is meant as; whoever draws it has a colour for each.
enum class Role { paper, line, faint, plain, strong, now, earlier, care, stop };

enum class Lettering { small, title };

/// A rectangle on a picture, y downward.
struct Frame {
    double x = 0, y = 0, width = 0, height = 0;

    [[nodiscard]] double right() const { return x + width; }
    [[nodiscard]] double bottom() const { return y + height; }
    [[nodiscard]] bool overlaps(const Frame& other) const {
        return x < other.right() && other.x < right() && y < other.bottom() && other.y < bottom();
    }
};

struct PictureLine {
    std::vector<Vec2> points;  ///< at least two
    Role role = Role::plain;
    double width = 1;
    double opacity = 1;
};

/// Filled, convex.
struct PicturePolygon {
    std::vector<Vec2> corners;
    Role role = Role::plain;
    double opacity = 1;
    bool joined = false;  ///< neighbours in the same colour adjoin it: its edges must not be smoothed
};

struct PictureDot {
    Vec2 centre = Vec2::Zero();
    double radius = 1;
    Role role = Role::plain;
};

struct PictureText {
    Frame frame;        ///< the room its letters take
    double anchor = 0;  ///< where it is held if letters turn out wider: 0 left, 0.5 middle, 1 right
    std::string text;
    Role role = Role::plain;
    Lettering lettering = Lettering::small;
};

using Shape = std::variant<PictureLine, PicturePolygon, PictureDot, PictureText>;

/// What to draw, in this order, in pixels, y downward.
using Picture = std::vector<Shape>;

/// How many pixels letters take (width, height).
using MeasureLetters = std::function<Vec2(std::string_view, Lettering)>;

/// The part of a line that lies inside, in as many pieces as it is cut into; points that are not finite cut
/// it too.
std::vector<std::vector<Vec2>> clipped_line(const std::vector<Vec2>& points, const Frame& inside);
/// The part of a convex polygon that lies inside; no corners if there is none.
std::vector<Vec2> clipped_polygon(const std::vector<Vec2>& corners, const Frame& inside);
/// A line as dashes. \pre finite points, run > 0, gap > 0
std::vector<std::vector<Vec2>> dashes(const std::vector<Vec2>& points, double run, double gap);

/// What letters take in svg_document(), as near as can be told without a font.
Vec2 svg_letters(std::string_view text, Lettering lettering);
/// The picture as a whole SVG document on white; texts are made fit for XML.
///
/// \param under SVG that goes under the picture: fields of cells in colours that no role has
std::string svg_document(const Picture& picture, double width, double height, std::string_view under = {});

/// Text as it stands in XML or HTML, also within double quotes; harmless, see printable().
std::string markup_escaped(std::string_view text);

}  // namespace evenspit
