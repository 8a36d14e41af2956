// SPDX-License-Identifier: MIT
#include "report/picture.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "report/text_layout.h"

namespace evenspit {
namespace {

/// The half plane of all points with `axis` · sign ≥ bound.
struct Side {
    int axis;
    double sign, bound;

    [[nodiscard]] double depth(const Vec2& p) const { return sign * p[axis] - bound; }
};

std::array<Side, 4> sides_of(const Frame& frame) {
    return {Side{0, 1, frame.x}, Side{0, -1, -frame.right()}, Side{1, 1, frame.y},
            Side{1, -1, -frame.bottom()}};
}

/// The part of a straight piece that lies inside, if any (Liang and Barsky).
std::optional<std::array<Vec2, 2>> clipped_piece(const Vec2& a, const Vec2& b, const Frame& inside) {
    double from = 0, to = 1;
    for (const Side& side : sides_of(inside)) {
        const double at_a = side.depth(a), at_b = side.depth(b);
        if (at_a < 0 && at_b < 0) return std::nullopt;
        if (at_a < 0) from = std::max(from, at_a / (at_a - at_b));
        if (at_b < 0) to = std::min(to, at_a / (at_a - at_b));
    }
    if (from > to) return std::nullopt;
    return std::array<Vec2, 2>{from > 0 ? Vec2(a + from * (b - a)) : a, to < 1 ? Vec2(a + to * (b - a)) : b};
}

constexpr double small_px = 11, title_px = 14;

double size_of(Lettering lettering) {
    return lettering == Lettering::title ? title_px : small_px;
}

std::string_view colour_of(Role role) {
    switch (role) {
        case Role::paper:
            return "#ffffff";
        case Role::line:
            return "#b5b5b5";
        case Role::faint:
            return "#6b6b6b";
        case Role::plain:
            return "#333333";
        case Role::strong:
            return "#111111";
        case Role::now:
            return "#1b6ca8";
        case Role::earlier:
            return "#8a5fa8";
        case Role::care:
            return "#b36b00";
        case Role::stop:
            return "#c0392b";
    }
    return "";
}

std::string points_of(const std::vector<Vec2>& points) {
    std::string out;
    for (const Vec2& p : points) out += fmt::format("{}{:.1f},{:.1f}", out.empty() ? "" : " ", p.x(), p.y());
    return out;
}

std::string opacity_of(std::string_view key, double opacity) {
    return opacity < 1 ? fmt::format(" {}=\"{:.2f}\"", key, opacity) : std::string();
}

struct SvgShape {
    std::string operator()(const PictureLine& line) const {
        return fmt::format("<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{:g}\"{}/>\n",
                           points_of(line.points), colour_of(line.role), line.width,
                           opacity_of("stroke-opacity", line.opacity));
    }
    std::string operator()(const PicturePolygon& polygon) const {
        return fmt::format("<polygon points=\"{}\" fill=\"{}\"{}{}/>\n", points_of(polygon.corners),
                           colour_of(polygon.role), opacity_of("fill-opacity", polygon.opacity),
                           polygon.joined ? " shape-rendering=\"crispEdges\"" : "");
    }
    std::string operator()(const PictureDot& dot) const {
        return fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:g}\" fill=\"{}\"/>\n", dot.centre.x(),
                           dot.centre.y(), dot.radius, colour_of(dot.role));
    }
    std::string operator()(const PictureText& text) const {
        constexpr double baseline = 0.8;  // of the letters' height, below their top
        const std::string_view anchor = text.anchor == 0 ? "start" : text.anchor == 1 ? "end" : "middle";
        return fmt::format(
            "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\" font-size=\"{:g}\" fill=\"{}\">{}</text>\n",
            text.frame.x + text.anchor * text.frame.width, text.frame.y + baseline * text.frame.height,
            anchor, size_of(text.lettering), colour_of(text.role), markup_escaped(text.text));
    }
};

}  // namespace

std::string markup_escaped(std::string_view text) {
    std::string out;
    // Control characters are no part of XML or HTML.
    for (const char c : printable(text)) {
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            default:
                out += c;
        }
    }
    return out;
}

std::vector<std::vector<Vec2>> clipped_line(const std::vector<Vec2>& points, const Frame& inside) {
    std::vector<std::vector<Vec2>> pieces;
    bool goes_on = false;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        const Vec2 &a = points[i], &b = points[i + 1];
        const auto part = a.allFinite() && b.allFinite() ? clipped_piece(a, b, inside)
                                                         : std::optional<std::array<Vec2, 2>>();
        if (!part) {
            goes_on = false;
            continue;
        }
        if (!goes_on || (*part)[0] != a) pieces.push_back({(*part)[0]});
        pieces.back().push_back((*part)[1]);
        goes_on = (*part)[1] == b;
    }
    return pieces;
}

std::vector<Vec2> clipped_polygon(const std::vector<Vec2>& corners, const Frame& inside) {
    // Sutherland and Hodgman: cut off what lies beyond one side after the other.
    std::vector<Vec2> left = corners;
    for (const Side& side : sides_of(inside)) {
        std::vector<Vec2> kept;
        for (std::size_t i = 0; i < left.size(); ++i) {
            const Vec2 &a = left[i], &b = left[(i + 1) % left.size()];
            const double at_a = side.depth(a), at_b = side.depth(b);
            if (at_a >= 0) kept.push_back(a);
            if ((at_a >= 0) != (at_b >= 0)) kept.push_back(a + at_a / (at_a - at_b) * (b - a));
        }
        left = std::move(kept);
    }
    return left;
}

std::vector<std::vector<Vec2>> dashes(const std::vector<Vec2>& points, double run, double gap) {
    std::vector<std::vector<Vec2>> result;
    if (points.empty()) return result;
    result.push_back({points.front()});
    bool inked = true;
    double left = run;  // of this dash or gap
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        const Vec2 &a = points[i], &b = points[i + 1];
        const double length = (b - a).norm();
        double at = 0;
        while (length - at > left) {
            at += left;
            const Vec2 turn = a + at / length * (b - a);
            if (inked) {
                result.back().push_back(turn);
            } else {
                result.push_back({turn});
            }
            inked = !inked;
            left = inked ? run : gap;
        }
        left -= length - at;
        if (inked) result.back().push_back(b);
    }
    if (result.back().size() < 2) result.pop_back();
    return result;
}

Vec2 svg_letters(std::string_view text, Lettering lettering) {
    // Sans-serif letters are a little over half as wide as high on average; digits and spaces less.
    constexpr double width = 0.6, height = 1.25;
    return {width * size_of(lettering) * display_width(text), height * size_of(lettering)};
}

std::string svg_document(const Picture& picture, double width, double height, std::string_view under) {
    std::string out = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:g}\" height=\"{1:g}\" viewBox=\"0 0 {0:g} "
        "{1:g}\" "
        "font-family=\"sans-serif\">\n<rect width=\"{0:g}\" height=\"{1:g}\" fill=\"white\"/>\n",
        width, height);
    out += under;
    for (const Shape& shape : picture) out += std::visit(SvgShape{}, shape);
    return out + "</svg>\n";
}

}  // namespace evenspit
