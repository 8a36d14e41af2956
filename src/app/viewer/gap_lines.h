// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewer/desk.h"
#include "app/viewer/label_sheet.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

/// Draws the tightest gap to the cooker, or every one where the desk shows gaps: a line from load to surface
/// with its figure, and where it counts, a broad band as long as the gap that is to be kept.
void draw_gaps(Ui& ui, const Desk& desk, const Area& scene, LabelSheet& labels);

}  // namespace evenspit::viewer
