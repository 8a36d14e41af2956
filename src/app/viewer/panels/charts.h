// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewer/desk.h"
#include "app/viewer/layout.h"
#include "app/viewer/panels/panels.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

/// The strip of curves: torque over a turn with the motor's limits and where the load is now, radius along
/// the rod against the walls, the sag line, and the grip of every tine; a pinned or planned state's curves
/// beside them. They tell their values under the pointer; a click on the torque turns the load there, a
/// click elsewhere makes a chart larger.
void draw_charts(Ui& ui, Desk& desk, const Area& area, ChartPlace place, PanelState& state);

/// The same one below the other, where they are behind a tab.
void draw_chart_column(Ui& ui, Desk& desk, PanelState& state);

/// The chart that was clicked, over the scene.
void draw_large_chart(Ui& ui, Desk& desk, const Area& scene, PanelState& state);

}  // namespace evenspit::viewer
