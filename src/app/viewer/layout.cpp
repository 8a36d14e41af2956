// SPDX-License-Identifier: MIT
#include "app/viewer/layout.h"

#include <algorithm>
#include <cmath>

namespace evenspit::viewer {

Layout layout_of(Extent size, double scale) {
    const double width = size.width, height = size.height;
    const double bar = std::round(42 * scale), turn = std::round(36 * scale);
    const double side = std::round(std::clamp(0.30 * width, 372 * scale, 520 * scale));
    const double charts = std::round(std::clamp(0.27 * height, 178 * scale, 300 * scale));
    Layout layout;
    layout.bar = {0, 0, width, bar};
    layout.side = {width - side, bar, side, height - bar};
    layout.scene = {0, bar, width - side, std::max(1.0, height - bar - turn - charts)};
    layout.turn = {0, layout.scene.y + layout.scene.height, width - side, turn};
    layout.charts = {0, layout.turn.y + turn, width - side, charts};
    return layout;
}

}  // namespace evenspit::viewer
