// SPDX-License-Identifier: MIT
#include "app/viewer/panels/charts.h"

#include <algorithm>
#include <array>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "analysis/balance.h"
#include "app/viewer/panels/parts.h"
#include "app/viewer/panels/picture.h"
#include "report/load_charts.h"

namespace evenspit::viewer {
namespace {

ImVec2 vec(const Vec2& p) {
    return {static_cast<float>(p.x()), static_cast<float>(p.y())};
}

constexpr std::array<const char*, 4> chart_names = {"Torque", "Radius", "Sag", "Grip"};
constexpr std::array<double, 4> shares = {0.28, 0.28, 0.20, 0.24};  // of the strip
enum : std::size_t { torque, radius, sag, grip };

/// The four charts of a load as it is.
class Charts {
  public:
    Charts(Ui& ui, Desk& desk, PanelState& state)
        : ui_(ui),
          desk_(desk),
          state_(state),
          list_(*ImGui::GetWindowDrawList()),
          charted_{desk.analysed(), desk.analysis(), desk.compared(), Units(desk.settings().units)} {}

    void draw(std::size_t which, const Frame& frame) {
        const double turn = desk_.turn().angle_rad;
        switch (which) {
            case torque:
                return show(
                    which, torque_chart(charted_, TurnNow{turn, motor_torque_at(charted_.now.balance, turn)}),
                    frame);
            case radius:
                return show(which, radius_chart(charted_, desk_.walls()), frame);
            case sag:
                return show(which, sag_chart(charted_), frame);
            default:
                lay(grip_chart(charted_), frame);
                if (touched(which, frame)) enlarge(which);
        }
    }

  private:
    template <typename AnyChart>
    void lay(const AnyChart& chart, const Frame& frame) {
        draw_picture(ui_, list_, lay_out(chart, frame, letters_of(ui_), ui_.scale()), desk_.stale());
    }

    /// Whether a place of a chart is pressed.
    bool touched(std::size_t which, const Frame& frame) {
        const ImVec2 before = ImGui::GetCursorPos();
        ImGui::SetCursorScreenPos(vec({frame.x, frame.y}));
        const std::string name = std::string(chart_names[which]) + " chart";
        const bool pressed =
            ui_.pressed(name + (state_.large_chart == which ? "##large" : ""),
                        vec({std::max(1.0, frame.width), std::max(1.0, frame.height)}), name);
        ImGui::SetCursorPos(before);
        return pressed;
    }

    /// The chart, what it says under the pointer, and what a click does there.
    void show(std::size_t which, const Chart& chart, const Frame& frame) {
        lay(chart, frame);
        const bool pressed = touched(which, frame);
        const bool hovered = ImGui::IsItemHovered();
        const Frame plot = plot_of(frame, ui_.scale());
        const ImVec2 at = ImGui::GetIO().MousePos;
        const bool inside =
            hovered && at.x >= plot.x && at.x <= plot.right() && at.y >= plot.y && at.y <= plot.bottom();
        const double x = at_share(chart.x, (at.x - plot.x) / plot.width);
        if (inside) tell(which, chart, plot, x);
        if (!pressed) return;
        if (which == torque && inside) {
            desk_.wish(SetTurn{x * std::numbers::pi / 180});
        } else {
            enlarge(which);
        }
    }
    void enlarge(std::size_t which) {
        state_.large_chart = state_.large_chart == which ? std::nullopt : std::optional(which);
    }

    /// A line under the pointer, and what the curve is there.
    void tell(std::size_t which, const Chart& chart, const Frame& plot, double x) {
        const Series* const now = chart.find("now");
        const std::optional<double> value = now != nullptr ? value_at(*now, x) : std::nullopt;
        const ImVec2 at = ImGui::GetIO().MousePos;
        list_.AddLine({at.x, static_cast<float>(plot.y)}, {at.x, static_cast<float>(plot.bottom())},
                      ui_.colour(Ink::accent, 0.7), ui_.px(1));
        if (!value) return;
        const double share = (*value - chart.y.from) / chart.y.size();
        const double y = plot.y + (chart.y.downward ? share : 1 - share) * plot.height;
        list_.AddCircleFilled(vec({at.x, y}), ui_.px(3.5), ui_.colour(Ink::accent), 20);
        std::string words = words_at(which, x, *value);
        if (const Series* const earlier = chart.find("earlier"); earlier != nullptr) {
            if (const auto then = value_at(*earlier, x))
                words += fmt::format("; dashed {}", figure(which, *then));
        }
        if (which == radius) words += nearest_wall(chart, x);
        draw_plate(ui_, list_, words, plot, at.x);
    }
    [[nodiscard]] std::string figure(std::size_t which, double value) const {
        return which == torque ? charted_.units.torque(value)
               : which == sag  ? charted_.units.slack(value) + " down"
                               : charted_.units.length(value);
    }
    [[nodiscard]] std::string words_at(std::size_t which, double x, double value) const {
        const std::string where =
            which == torque
                ? fmt::format("{:.0f}°", x)
                : "at " + Stations(desk_.settings().units, desk_.session().assembly().rod.mark_m)(x);
        return where + ": " + figure(which, value);
    }
    [[nodiscard]] std::string nearest_wall(const Chart& chart, double x) const {
        std::string name;
        double least = 0;
        for (const CookerSurface& surface : charted_.load.cooker.surfaces) {
            const Series* const wall = chart.find(surface.name);
            const auto away = wall != nullptr ? value_at(*wall, x) : std::nullopt;
            if (!away || (!name.empty() && *away >= least)) continue;
            name = surface.name;
            least = *away;
        }
        return name.empty() ? "" : fmt::format("; {} {}", name, charted_.units.length(least));
    }
    Ui& ui_;
    Desk& desk_;
    PanelState& state_;
    ImDrawList& list_;
    ChartedLoad charted_;
};

}  // namespace

void draw_charts(Ui& ui, Desk& desk, const Area& area, ChartPlace place, PanelState& state) {
    if (!desk.has_answer()) return;
    Charts charts(ui, desk, state);
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
        if (ui.toggle(std::string(chart_names[i]) + "##chart", state.chart == i, "", true, width))
            state.chart = i;
    }
    const double left = width + ui.px(16);
    charts.draw(state.chart, {area.x + left, area.y, area.width - left, area.height});
}

void draw_chart_column(Ui& ui, Desk& desk, PanelState& state) {
    if (!desk.has_answer()) return;
    Charts charts(ui, desk, state);
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(190);
    for (std::size_t i = 0; i < chart_names.size(); ++i) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        charts.draw(i, {at.x, at.y, width, height});
        ImGui::Dummy({width, height + ui.px(8)});
    }
}

void draw_large_chart(Ui& ui, Desk& desk, const Area& scene, PanelState& state) {
    if (!state.large_chart || !desk.has_answer()) return;
    ui.set_layer(Layer::over_scene);
    const double margin = ui.px(10);
    const Area area{scene.x + margin, scene.y + margin, scene.width - 2 * margin, scene.height - 2 * margin};
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, ui.px(1));
    begin_area("large chart", area, {0, 0});
    ImGui::PopStyleVar();
    const double foot = ImGui::GetFrameHeight() + ui.px(8);
    Charts(ui, desk, state).draw(*state.large_chart, {area.x, area.y, area.width, area.height - foot});
    ImGui::SetCursorPos({ui.px(10), static_cast<float>(area.height - foot)});
    if (ui.button("Smaller") || ui.escaped()) state.large_chart.reset();
    ui.cover(area);
    ImGui::End();
    ui.set_layer(Layer::panels);
}

}  // namespace evenspit::viewer
