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
constexpr double four_charts = 800;  // of width, for all of them side by side
constexpr double turn_one_row = 620;

}  // namespace

Extent least_size(Extent now) {
    return {now.height >= least_upright.height ? least_upright.width : least_wide.width,
            now.width >= least_wide.width ? least_wide.height : least_upright.height};
}

Layout layout_of(Extent size, double scale) {
    const double width = size.width, height = size.height;
    const bool upright = width < upright_width * scale, low = height < low_height * scale;
    const double side_share = std::clamp(0.30 * width, side_good * scale, side_most * scale);
    const double side =
        upright ? width : std::round(std::max(side_least * scale, std::min(side_share, 0.44 * width)));
    const double left = upright ? width : width - side;
    const double bar = std::round(bar_height * scale);
    Layout layout;
    layout.turn_folded = left < turn_one_row * scale;
    layout.chart_place = upright || low               ? ChartPlace::tab
                         : left < four_charts * scale ? ChartPlace::one
                                                      : ChartPlace::row;
    const double turn = std::round((layout.turn_folded ? 2 : 1) * turn_row * scale);
    const double charts =
        layout.chart_place == ChartPlace::tab
            ? 0
            : std::round(std::clamp(0.27 * height, charts_least * scale, charts_most * scale));
    layout.bar = {0, 0, width, bar};
    const double scene = upright ? std::round(0.38 * height) : height - bar - turn - charts;
    layout.scene = {0, bar, left, std::max(1.0, scene)};
    layout.turn = {0, layout.scene.y + layout.scene.height, left, turn};
    layout.charts = {0, layout.turn.y + turn, left, charts};
    layout.side = upright ? Area{0, layout.turn.y + turn, width, std::max(1.0, height - layout.turn.y - turn)}
                          : Area{left, bar, side, height - bar};
    return layout;
}

}  // namespace evenspit::viewer
