// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewer/desk.h"
#include "app/viewer/layout.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

/// The strip of curves: torque over a turn with the motor's limits and where the load is now, radius along
/// the rod against the walls, the sag line, and the grip of every tine; a pinned state's curves beside them.
///
/// \param chosen which of them is shown where there is room for one
void draw_charts(Ui& ui, const Desk& desk, const Area& area, ChartPlace place, std::size_t& chosen);

/// The same one below the other, where they are behind a tab.
void draw_chart_column(Ui& ui, const Desk& desk);

}  // namespace evenspit::viewer
