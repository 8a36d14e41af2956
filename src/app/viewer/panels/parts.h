// SPDX-License-Identifier: MIT
// What the panels share. Not for others.
#pragma once

#include <imgui.h>

#include "app/viewer/desk.h"
#include "app/viewer/layout.h"
#include "app/viewer/panels/panels.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

ImVec2 corner(double x, double y);

/// Begins a panel that fills an area; ImGui::End() ends it.
void begin_area(const char* name, const Area& area, ImVec2 padding, ImGuiWindowFlags more = 0);
/// Begins and ends a panel that lies over the scene, as high as what it holds.
void begin_over_scene(Ui& ui, const char* name);
void end_over_scene(Ui& ui);

/// A shape beside the word: a disc for ready, a triangle for care, an octagon for stop.
void level_shape(ImDrawList& list, ImVec2 centre, float radius, Level level, ImU32 fill);

/// A bar that fills, or where it is not known how far the work is, a piece that runs to and fro.
void draw_progress(Ui& ui, double share);

// --- the panels ---
/// The buttons across the top.
void draw_bar(Ui& ui, Desk& desk, const Layout& layout, PanelState& state);
/// The strip below the scene that turns the load.
void draw_turn(Ui& ui, Desk& desk, const Layout& layout);
/// The load's name, the verdict, and what belongs to the chosen tab.
void draw_side(Ui& ui, Desk& desk, const Layout& layout, PanelState& state);
/// What stands in the way, each finding to be clicked.
void draw_findings(Ui& ui, Desk& desk);
/// Where everything sits, to be chosen and typed over.
void draw_places(Ui& ui, Desk& desk);
void draw_figures(Ui& ui, const Desk& desk);
void draw_plan(Ui& ui, Desk& desk);
/// Roll tests: those that were made, the next, and the counterweight that trims.
void draw_roll(Ui& ui, Desk& desk, RollDraft& draft);
/// The cook in time: the load at each moment of it.
void draw_cook(Ui& ui, Desk& desk);
/// What lies over the scene: hints, a notice, what is being read.
void draw_over_scene(Ui& ui, Desk& desk, const Layout& layout, const PanelState& state);
/// The dialogue that is open, if one is: over everything else.
void draw_dialog(Ui& ui, Desk& desk, PanelState& state);

}  // namespace evenspit::viewer
