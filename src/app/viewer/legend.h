// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewer/camera.h"
#include "app/viewer/sighting.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

/// A figure of a field in the reader's units.
std::string field_figure(const Field& field, double si, UnitSystem units);

/// What the colours in the scene mean: name, unit and range, in its lower right corner.
void draw_legend(Ui& ui, const Field& field, const Area& scene, UnitSystem units);

}  // namespace evenspit::viewer
