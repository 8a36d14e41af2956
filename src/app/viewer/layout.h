// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewer/camera.h"
#include "app/viewer/window_system.h"

namespace evenspit::viewer {

/// Where the parts of the window are, pixels.
struct Layout {
    Area bar;  ///< across the top
    Area scene;
    Area turn;    ///< the turning's strip, below the scene
    Area charts;  ///< below that
    Area side;    ///< right, below the bar
};

Layout layout_of(Extent size, double scale);

}  // namespace evenspit::viewer
