// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>

#include "app/cli/words.h"

namespace evenspit {

/// A picture of the viewer, wanted without a display. Names are those of the command line.
struct PictureRequest {
    int width = 1280, height = 720;   ///< pixels
    double scale = 1;                 ///< pixels per point
    double angle_rad = 0;             ///< of the turn
    std::string from = "home";        ///< home, front, back, drive, point, above, below
    std::string panel = "findings";   ///< findings, places, figures, plan, roll, cook, charts
    bool inside = false;              ///< skin as glass
    bool section = false;             ///< cut open across the rod
    bool dark = false;                ///< panels and sky
    bool colours = false;             ///< on the skin: its distance from the rod
    bool heat = false;                ///< of the body: its temperature
    std::string scan_unit{};          ///< as `scan_unit` takes it; "": not told
    std::optional<double> after_s{};  ///< the load as it is so long after it goes in
};

/// \throws UsageError for a size, factor, angle, view or panel that there is not
PictureRequest picture_request(const Words& words);

}  // namespace evenspit
