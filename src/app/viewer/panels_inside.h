// SPDX-License-Identifier: MIT
// Inside of draw_panels(). Not for others.
#pragma once

#include "app/viewer/panels.h"

namespace evenspit::viewer {

/// The dialogue that is open, if one is: over everything else.
void draw_dialog(Ui& ui, Desk& desk, PanelState& state);

}  // namespace evenspit::viewer
