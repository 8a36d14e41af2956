// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewer/desk.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

/// Draws where the rod may really lie in the items, and where the centre of mass then is, over the scene. The
/// mounting that is looked at stands out.
void draw_cloud_lines(Ui& ui, const Desk& desk, const Area& scene);

}  // namespace evenspit::viewer
