// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewer/camera.h"
#include "app/viewer/window_system.h"

namespace evenspit::viewer {

/// Where the charts are.
enum class ChartPlace {
    row,  ///< all side by side in their strip
    one,  ///< one in the strip, chosen by its tab
    tab,  ///< behind a tab of the side: there is no strip
};

/// Where the parts of the window are, pixels.
struct Layout {
    Area bar;  ///< across the top
    Area scene;
    Area turn;    ///< the turning's strip, below the scene
    Area charts;  ///< below that; of no height where they are elsewhere
    Area side;    ///< right, below the bar; in an upright window below all else
    ChartPlace chart_place = ChartPlace::row;
    bool turn_folded = false;  ///< the turning's strip has two rows
};

Layout layout_of(Extent size, double scale);

}  // namespace evenspit::viewer
