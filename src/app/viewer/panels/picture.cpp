// SPDX-License-Identifier: MIT
#include "app/viewer/panels/picture.h"

#include <algorithm>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace evenspit::viewer {
namespace {

Ink ink_of_role(Role role) {
    switch (role) {
        case Role::paper:
            return Ink::paper;
        case Role::line:
            return Ink::line;
        case Role::faint:
            return Ink::faint;
        case Role::plain:
            return Ink::plain;
        case Role::strong:
            return Ink::strong;
        case Role::now:
            return Ink::accent;
        case Role::earlier:
            return Ink::pinned;
        case Role::care:
            return Ink::care;
        case Role::stop:
            return Ink::stop;
    }
    return Ink::plain;
}

ImVec2 on_screen(const Vec2& p) {
    return {static_cast<float>(p.x()), static_cast<float>(p.y())};
}

std::vector<ImVec2> vecs(const std::vector<Vec2>& points) {
    std::vector<ImVec2> result;
    result.reserve(points.size());
    for (const Vec2& p : points) result.push_back(on_screen(p));
    return result;
}

ImFont* font_of(const Ui& ui, Lettering lettering) {
    return lettering == Lettering::title ? ui.regular() : ui.small();
}

struct Brush {
    Ui& ui;
    ImDrawList& list;
    bool stale;

    [[nodiscard]] double opacity() const { return stale ? 0.45 : 1; }

    void operator()(const PictureLine& line) const {
        const std::vector<ImVec2> points = vecs(line.points);
        list.AddPolyline(points.data(), static_cast<int>(points.size()),
                         ui.colour(ink_of_role(line.role), line.opacity * opacity()), 0,
                         static_cast<float>(line.width));
    }
    void operator()(const PicturePolygon& polygon) const {
        const std::vector<ImVec2> corners = vecs(polygon.corners);
        const ImU32 colour = polygon.role == Role::paper
                                 ? ui.colour(Ink::sheet)
                                 : ui.colour(ink_of_role(polygon.role), polygon.opacity * opacity());
        const ImDrawListFlags flags = list.Flags;
        // Smoothed edges would show as seams between neighbours.
        if (polygon.joined) list.Flags &= ~ImDrawListFlags_AntiAliasedFill;
        list.AddConvexPolyFilled(corners.data(), static_cast<int>(corners.size()), colour);
        list.Flags = flags;
    }
    void operator()(const PictureDot& dot) const {
        list.AddCircleFilled(on_screen(dot.centre), static_cast<float>(dot.radius),
                             ui.colour(ink_of_role(dot.role), opacity()), 20);
    }
    void operator()(const PictureText& text) const {
        // A line may run under the letters; they stand on a plate of their own.
        if (text.role != Role::faint && text.lettering == Lettering::small) {
            const Frame& f = text.frame;
            list.AddRectFilled(on_screen({f.x - 1, f.y}), on_screen({f.right() + 1, f.bottom()}),
                               ui.colour(Ink::sheet, 0.86), ui.px(2));
        }
        ui.letters(list, font_of(ui, text.lettering), text.frame.x, text.frame.y, text.text,
                   stale ? Ink::faint : ink_of_role(text.role));
    }
};

}  // namespace

void draw_picture(Ui& ui, ImDrawList& list, const Picture& picture, bool stale) {
    const Brush brush{ui, list, stale};
    for (const Shape& shape : picture) std::visit(brush, shape);
}

MeasureLetters letters_of(const Ui& ui) {
    return [&ui](std::string_view text, Lettering lettering) {
        const ImVec2 size = ui.size_of(font_of(ui, lettering), text);
        return Vec2(size.x, size.y);
    };
}

void draw_plate(Ui& ui, ImDrawList& list, const std::string& words, const Frame& plot, double x) {
    const double pad = ui.px(4);
    const double window = ImGui::GetWindowPos().x, room = ImGui::GetWindowSize().x - 2 * pad;
    const std::string lines = ui.in_lines(ui.small(), words, static_cast<float>(room));
    const ImVec2 size = ui.size_of(ui.small(), lines);
    const double left =
        std::clamp(x - size.x / 2, window + pad, std::max(window + pad, window + room - size.x));
    const Layer layer = ui.layer();
    ui.set_layer(Layer::hint);
    const ImVec2 from = on_screen({left - pad, plot.y}),
                 to = on_screen({left + size.x + pad, plot.y + size.y + pad});
    list.AddRectFilled(from, to, ui.colour(Ink::paper), ui.px(3));
    list.AddRect(from, to, ui.colour(Ink::line), ui.px(3));
    ui.paragraph(list, ui.small(), on_screen({left, plot.y + pad / 2}), size.x + ui.px(1), words,
                 Ink::strong);
    ui.set_layer(layer);
}

}  // namespace evenspit::viewer
