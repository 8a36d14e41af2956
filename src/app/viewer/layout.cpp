// SPDX-License-Identifier: MIT
#include "app/viewer/layout.h"

#include <algorithm>
#include <cmath>

namespace evenspit::viewer {
namespace {

// All in points: what panels need to hold their words.
constexpr double bar_height = 42, turn_row = 36;
constexpr double upright_width = 600;  // below it scene and side stand one over the other
constexpr double low_height = 540;     // below it there is no room for a strip of charts
constexpr double side_least = 280, side_good = 372, side_most = 520;
constexpr double charts_least = 178, charts_most = 300;
constexpr double scene_least_wide = 320, scene_least_high = 150, side_least_high = 260;
constexpr double four_charts = 800;  // of width, for all of them side by side
constexpr double turn_one_row = 620;

}  // namespace

Extent least_size(Extent now) {
    return {now.height >= least_upright.height ? least_upright.width : least_wide.width,
            now.width >= least_wide.width ? least_wide.height : least_upright.height};
}

Layout layout_of(Extent size, double scale, const Splits& splits) {
    const double width = size.width, height = size.height;
    const bool upright = width < upright_width * scale, low = height < low_height * scale;
    const double side_share =
        splits.side > 0
            ? std::min(splits.side * width, width - scene_least_wide * scale)
            : std::min(std::clamp(0.30 * width, side_good * scale, side_most * scale), 0.44 * width);
    const double side = upright ? width : std::round(std::max(side_least * scale, side_share));
    const double left = upright ? width : width - side;
    const double bar = std::round(bar_height * scale);
    Layout layout;
    layout.upright = upright;
    layout.turn_folded = left < turn_one_row * scale;
    layout.chart_place = upright || low               ? ChartPlace::tab
                         : left < four_charts * scale ? ChartPlace::one
                                                      : ChartPlace::row;
    const double turn = std::round((layout.turn_folded ? 2 : 1) * turn_row * scale);
    const double charts =
        layout.chart_place == ChartPlace::tab
            ? 0
            : std::round(splits.charts > 0
                             ? std::max(charts_least * scale,
                                        std::min(splits.charts * height,
                                                 height - bar - turn - scene_least_high * scale))
                             : std::clamp(0.27 * height, charts_least * scale, charts_most * scale));
    layout.bar = {0, 0, width, bar};
    const double upright_scene =
        std::max(scene_least_high * scale, std::min((splits.scene > 0 ? splits.scene : 0.38) * height,
                                                    height - bar - turn - side_least_high * scale));
    const double scene = upright ? std::round(upright_scene) : height - bar - turn - charts;
    layout.scene = {0, bar, left, std::max(1.0, scene)};
    layout.turn = {0, layout.scene.y + layout.scene.height, left, turn};
    layout.charts = {0, layout.turn.y + turn, left, charts};
    layout.side = upright ? Area{0, layout.turn.y + turn, width, std::max(1.0, height - layout.turn.y - turn)}
                          : Area{left, bar, side, height - bar};
    return layout;
}

Area edge_area(const Layout& layout, Edge edge, double thick) {
    const Area& side = layout.side;
    if (edge == Edge::side) return {side.x - thick / 2, side.y, thick, side.height};
    const Area& below = edge == Edge::charts ? layout.charts : side;
    return {below.x, below.y - thick / 2, below.width, thick};
}

std::optional<Edge> edge_at(const Layout& layout, double x, double y, double reach) {
    if (layout.upright)
        return edge_area(layout, Edge::scene, 2 * reach).contains(x, y) ? std::optional(Edge::scene)
                                                                        : std::nullopt;
    if (edge_area(layout, Edge::side, 2 * reach).contains(x, y)) return Edge::side;
    const bool strip = layout.chart_place != ChartPlace::tab;
    if (strip && edge_area(layout, Edge::charts, 2 * reach).contains(x, y)) return Edge::charts;
    return std::nullopt;
}

Splits pulled_edge(Splits splits, Edge edge, const Layout& layout, Extent size, double x, double y) {
    switch (edge) {
        case Edge::side:
            splits.side = std::clamp((size.width - x) / size.width, 0.01, 0.99);
            break;
        case Edge::charts:
            splits.charts = std::clamp((size.height - y) / size.height, 0.01, 0.99);
            break;
        case Edge::scene:
            splits.scene = std::clamp((y - layout.bar.height - layout.turn.height) / size.height, 0.01, 0.99);
            break;
    }
    return splits;
}

}  // namespace evenspit::viewer
