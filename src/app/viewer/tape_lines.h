// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewer/desk.h"
#include "app/viewer/label_sheet.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

/// Draws what the tape measures: its ends, and between two of them a line with how long it is.
void draw_tape(Ui& ui, const Desk& desk, const Area& scene, LabelSheet& labels);

}  // namespace evenspit::viewer
