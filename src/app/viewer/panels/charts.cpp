// SPDX-License-Identifier: MIT
#include "app/viewer/panels/charts.h"

#include <vector>

#include "analysis/balance.h"
#include "report/load_charts.h"

namespace evenspit::viewer {
namespace {

Ink ink_of(Role role) {
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

ImVec2 vec(const Vec2& p) {
    return {static_cast<float>(p.x()), static_cast<float>(p.y())};
}

std::vector<ImVec2> vecs(const std::vector<Vec2>& points) {
    std::vector<ImVec2> result;
    result.reserve(points.size());
    for (const Vec2& p : points) result.push_back(vec(p));
    return result;
}

/// Draws a picture's shapes into a panel.
struct Brush {
    Ui& ui;
    ImDrawList& list;
    double opacity;

    [[nodiscard]] ImFont* font(Lettering lettering) const {
        return lettering == Lettering::title ? ui.regular() : ui.small();
    }

    void operator()(const PictureLine& line) const {
        const std::vector<ImVec2> points = vecs(line.points);
        list.AddPolyline(points.data(), static_cast<int>(points.size()),
                         colour_of(ink_of(line.role), line.opacity * opacity), 0,
                         static_cast<float>(line.width));
    }
    void operator()(const PicturePolygon& polygon) const {
        const std::vector<ImVec2> corners = vecs(polygon.corners);
        const ImU32 colour = polygon.role == Role::paper
                                 ? IM_COL32(255, 255, 255, 255)
                                 : colour_of(ink_of(polygon.role), polygon.opacity * opacity);
        const ImDrawListFlags flags = list.Flags;
        // Smoothed edges would show as seams between neighbours.
        if (polygon.joined) list.Flags &= ~ImDrawListFlags_AntiAliasedFill;
        list.AddConvexPolyFilled(corners.data(), static_cast<int>(corners.size()), colour);
        list.Flags = flags;
    }
    void operator()(const PictureDot& dot) const {
        list.AddCircleFilled(vec(dot.centre), static_cast<float>(dot.radius),
                             colour_of(ink_of(dot.role), opacity), 20);
    }
    void operator()(const PictureText& text) const {
        ui.letters(list, font(text.lettering), text.frame.x, text.frame.y, text.text, ink_of(text.role),
                   opacity);
    }
};

}  // namespace

void draw_charts(Ui& ui, const Desk& desk, const Area& area) {
    if (!desk.has_answer()) return;
    const Brush brush{ui, *ImGui::GetWindowDrawList(), desk.answers().stale() ? 0.45 : 1.0};
    const MeasureLetters letters = [&](std::string_view text, Lettering lettering) {
        const ImVec2 size = ui.size_of(brush.font(lettering), text);
        return Vec2(size.x, size.y);
    };
    const auto& pinned = desk.session().pinned();
    const ChartedLoad charted{desk.answers().assembly(), desk.answers().analysis(),
                              pinned ? &pinned->analysis : nullptr, Units(desk.settings().units)};
    double x = area.x;
    const auto draw = [&](const auto& chart, double share) {
        const Frame frame{x, area.y, share * area.width, area.height};
        x += frame.width;
        for (const Shape& shape : lay_out(chart, frame, letters, ui.scale())) std::visit(brush, shape);
    };
    const double turn = desk.turn().angle_rad;
    draw(torque_chart(charted, TurnNow{turn, motor_torque_at(charted.now.balance, turn)}), 0.29);
    draw(radius_chart(charted, desk.walls()), 0.29);
    draw(sag_chart(charted), 0.20);
    draw(grip_chart(charted), 0.22);
}

}  // namespace evenspit::viewer
