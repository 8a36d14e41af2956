// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string>

#include "app/viewer/desk.h"
#include "app/viewer/layout.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

/// What panels keep to themselves between frames.
struct PanelState {
    std::filesystem::path folder;  ///< that the file dialogue shows
    std::string file_name;         ///< typed there
    Dialog shown = Dialog::none;   ///< the dialogue that was drawn last
};

/// Draws all panels for one frame; what they ask for is wished from the desk.
void draw_panels(Ui& ui, Desk& desk, const Layout& layout, PanelState& state);

}  // namespace evenspit::viewer
