// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewer/desk.h"
#include "app/viewer/hands.h"
#include "app/viewer/layout.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

/// What is drawn over the scene in lines and letters: centre of mass, heavy side, nearest gap, handles,
/// names.
struct OverlayState {
    std::optional<Sighting> hovered;
    std::optional<Grab> grab;
    std::optional<Handle> hovered_handle;
    bool stale = false;
};

void draw_overlay(Ui& ui, const Desk& desk, const Layout& layout, const OverlayState& state);

/// Where the eye meets what it looks at: on the section if that has cut away what lies before it.
Vec3 seen_place(const Desk& desk, const Sighting& sighting);

/// The handle whose mark lies under a place of the picture.
std::optional<Handle> handle_at(const Ui& ui, const Desk& desk, const Area& area, double x, double y);

/// Where the section's handle is, world; nothing without a section.
std::optional<Vec3> section_handle(const Desk& desk);
/// Whether it shows at a place of the picture.
bool is_at_section_handle(const Ui& ui, const Desk& desk, const Area& area, double x, double y);

/// What a handle does, in words.
std::string handle_words(const Handle& handle, const Assembly& assembly, UnitSystem units);

}  // namespace evenspit::viewer
