// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewer/camera.h"
#include "app/viewer/sighting.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

/// What the colours in the scene mean: name, unit and range, in its lower right corner.
void draw_legend(Ui& ui, const Field& field, const Area& scene, UnitSystem units);

}  // namespace evenspit::viewer
