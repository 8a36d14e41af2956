// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "app/viewer/camera.h"
#include "app/viewer/window_system.h"

namespace evenspit::viewer {

/// Where the charts are.
enum class ChartPlace {
    row,  ///< all side by side in their strip
    one,  ///< one in the strip, chosen by its tab
    tab,  ///< behind a tab of the side: there is no strip
};

/// How much room hands gave the parts, as shares of the window; 0: what is usual.
struct Splits {
    double side = 0;    ///< of the width
    double charts = 0;  ///< of the height
    double scene = 0;   ///< of the height of an upright window
    bool operator==(const Splits&) const = default;
};

/// A line between two parts that can be dragged.
enum class Edge { side, charts, scene };

/// Where the parts of the window are, pixels.
struct Layout {
    Area bar;  ///< across the top
    Area scene;
    Area turn;    ///< the turning's strip, below the scene
    Area charts;  ///< below that; of no height where they are elsewhere
    Area side;    ///< right, below the bar; in an upright window below all else
    ChartPlace chart_place = ChartPlace::row;
    bool turn_folded = false;  ///< the turning's strip has two rows
    bool upright = false;      ///< the side is below all else
};

/// \param splits held to what the parts need
Layout layout_of(Extent size, double scale, const Splits& splits = {});

/// The edge at a place, within `reach` of it; nothing: there is none.
std::optional<Edge> edge_at(const Layout& layout, double x, double y, double reach);
/// The edge as an area, `thick` across.
Area edge_area(const Layout& layout, Edge edge, double thick);
/// The splits with an edge pulled to a place.
Splits pulled_edge(Splits splits, Edge edge, const Layout& layout, Extent size, double x, double y);

}  // namespace evenspit::viewer
