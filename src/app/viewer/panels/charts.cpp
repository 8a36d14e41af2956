// SPDX-License-Identifier: MIT
#include "app/viewer/panels/charts.h"

#include <algorithm>
#include <array>
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
    bool stale;

    [[nodiscard]] double opacity() const { return stale ? 0.45 : 1; }
    [[nodiscard]] ImFont* font(Lettering lettering) const {
        return lettering == Lettering::title ? ui.regular() : ui.small();
    }

    void operator()(const PictureLine& line) const {
        const std::vector<ImVec2> points = vecs(line.points);
        list.AddPolyline(points.data(), static_cast<int>(points.size()),
                         ui.colour(ink_of(line.role), line.opacity * opacity()), 0,
                         static_cast<float>(line.width));
    }
    void operator()(const PicturePolygon& polygon) const {
        const std::vector<ImVec2> corners = vecs(polygon.corners);
        const ImU32 colour = polygon.role == Role::paper
                                 ? ui.colour(Ink::sheet)
                                 : ui.colour(ink_of(polygon.role), polygon.opacity * opacity());
        const ImDrawListFlags flags = list.Flags;
        // Smoothed edges would show as seams between neighbours.
        if (polygon.joined) list.Flags &= ~ImDrawListFlags_AntiAliasedFill;
        list.AddConvexPolyFilled(corners.data(), static_cast<int>(corners.size()), colour);
        list.Flags = flags;
    }
    void operator()(const PictureDot& dot) const {
        list.AddCircleFilled(vec(dot.centre), static_cast<float>(dot.radius),
                             ui.colour(ink_of(dot.role), opacity()), 20);
    }
    void operator()(const PictureText& text) const {
        // A line may run under the letters; they stand on a plate of their own.
        if (text.role != Role::faint && text.lettering == Lettering::small) {
            const Frame& f = text.frame;
            list.AddRectFilled(vec({f.x - 1, f.y}), vec({f.right() + 1, f.bottom()}),
                               ui.colour(Ink::sheet, 0.86), ui.px(2));
        }
        ui.letters(list, font(text.lettering), text.frame.x, text.frame.y, text.text,
                   stale ? Ink::faint : ink_of(text.role));
    }
};

/// The four charts of a load as it is.
class Charts {
  public:
    Charts(Ui& ui, const Desk& desk)
        : ui_(ui),
          desk_(desk),
          brush_{ui, *ImGui::GetWindowDrawList(), desk.answers().stale()},
          charted_{desk.answers().assembly(), desk.answers().analysis(),
                   desk.session().pinned() ? &desk.session().pinned()->analysis : nullptr,
                   Units(desk.settings().units)} {}

    void draw(std::size_t which, const Frame& frame) {
        const double turn = desk_.turn().angle_rad;
        switch (which) {
            case 0:
                return lay(torque_chart(charted_, TurnNow{turn, motor_torque_at(charted_.now.balance, turn)}),
                           frame);
            case 1:
                return lay(radius_chart(charted_, desk_.walls()), frame);
            case 2:
                return lay(sag_chart(charted_), frame);
            default:
                return lay(grip_chart(charted_), frame);
        }
    }

  private:
    template <typename AnyChart>
    void lay(const AnyChart& chart, const Frame& frame) {
        const MeasureLetters letters = [&](std::string_view text, Lettering lettering) {
            const ImVec2 size = ui_.size_of(brush_.font(lettering), text);
            return Vec2(size.x, size.y);
        };
        for (const Shape& shape : lay_out(chart, frame, letters, ui_.scale())) std::visit(brush_, shape);
    }

    Ui& ui_;
    const Desk& desk_;
    Brush brush_;
    ChartedLoad charted_;
};

constexpr std::array<const char*, 4> chart_names = {"Torque", "Radius", "Sag", "Grip"};
constexpr std::array<double, 4> shares = {0.28, 0.28, 0.20, 0.24};  // of the strip

}  // namespace

void draw_charts(Ui& ui, const Desk& desk, const Area& area, ChartPlace place, std::size_t& chosen) {
    if (!desk.has_answer()) return;
    Charts charts(ui, desk);
    if (place == ChartPlace::row) {
        double x = area.x;
        for (std::size_t i = 0; i < shares.size(); ++i) {
            const Frame frame{x, area.y, shares[i] * area.width, area.height};
            x += frame.width;
            charts.draw(i, frame);
        }
        return;
    }
    const float width = ui.room_for({chart_names[0], chart_names[1], chart_names[2], chart_names[3]});
    const float high = (static_cast<float>(area.height) - ui.px(2 * 8 + 3 * 6)) / 4;
    for (std::size_t i = 0; i < chart_names.size(); ++i) {
        ImGui::SetCursorPos(
            {ui.px(10), ui.px(8) + static_cast<float>(i) * (std::min(high, ui.px(30)) + ui.px(6))});
        if (ui.toggle(std::string(chart_names[i]) + "##chart", chosen == i, "", true, width)) chosen = i;
    }
    const double left = width + ui.px(16);
    charts.draw(chosen, {area.x + left, area.y, area.width - left, area.height});
}

void draw_chart_column(Ui& ui, const Desk& desk) {
    if (!desk.has_answer()) return;
    Charts charts(ui, desk);
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(190);
    for (std::size_t i = 0; i < chart_names.size(); ++i) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        charts.draw(i, {at.x, at.y, width, height});
        ImGui::Dummy({width, height + ui.px(8)});
    }
}

}  // namespace evenspit::viewer
