// SPDX-License-Identifier: MIT
#include "app/viewer/panels/panels.h"

#include "app/viewer/panels/charts.h"
#include "app/viewer/panels/parts.h"

namespace evenspit::viewer {
namespace {

void draw_chart_strip(Ui& ui, Desk& desk, const Layout& layout, PanelState& state) {
    if (layout.chart_place == ChartPlace::tab) return;
    begin_area("charts", layout.charts, {0, 0}, ImGuiWindowFlags_NoScrollWithMouse);
    const Area& area = layout.charts;
    ImGui::GetWindowDrawList()->AddLine(corner(area.x, area.y), corner(area.x + area.width, area.y),
                                        ui.colour(Ink::line), ui.px(1));
    draw_charts(ui, desk, area, layout.chart_place, state);
    ImGui::End();
}

}  // namespace

void draw_panels(Ui& ui, Desk& desk, const Layout& layout, PanelState& state) {
    draw_bar(ui, desk, layout, state);
    draw_turn(ui, desk, layout);
    draw_chart_strip(ui, desk, layout, state);
    draw_side(ui, desk, layout, state);
    draw_large_chart(ui, desk, layout.scene, state);
    draw_over_scene(ui, desk, layout, state);
    draw_dialog(ui, desk, state);
}

}  // namespace evenspit::viewer
