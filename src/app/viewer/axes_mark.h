// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>

#include "app/viewer/camera.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

/// An end of the axes in the picture's corner.
struct AxisEnd {
    StandardView view;   ///< from there
    const char* letter;  ///< of the axis as load files count it; "" at its other end
    Vec2 at = Vec2::Zero();
    double depth = 0;  ///< along the line of sight
};

/// The six ends in the lower left of the scene, as the eye looks; pixels.
std::array<AxisEnd, 6> axis_ends(const Camera& camera, const Area& scene, double scale);

/// The view that is asked for by a click there, if there is an end; of two the nearer to the eye.
std::optional<StandardView> axis_view_at(const Camera& camera, const Area& scene, double scale, double x,
                                         double y);

void draw_axes(Ui& ui, const Camera& camera, const Area& scene);

}  // namespace evenspit::viewer
