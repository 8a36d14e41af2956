// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "analysis/analysis.h"
#include "app/viewer/camera.h"
#include "app/viewer/desk.h"
#include "app/viewer/window_system.h"

namespace evenspit::viewer {

/// What a picture without a display shows.
struct Snapshot {
    Extent size{1280, 720};  ///< pixels
    double scale = 1;        ///< pixels per point
    double turn_rad = 0;
    StandardView from = StandardView::home;
    Tab tab = Tab::findings;
    bool inside = false;  ///< skin as glass
    Colouring colouring = Colouring::none;
    UnitSystem units = UnitSystem::metric;
    Theme theme = Theme::light;
    bool section = false;  ///< cut open across the rod at its centre of mass
    /// A scan's unit, as `scan_unit` takes it; "": what its file or its size tells.
    std::string scan_unit{};
    /// The load as it is so long after it goes in, s; absent: as written.
    std::optional<double> after_s{};
};

/// What the picture is of, and its bytes as a PNG file.
struct SnapshotResult {
    Level verdict = Level::ready;
    std::string png;
    std::string told;  ///< what was taken for granted of a scan, "" for nothing
};

/// Draws the window with a load on the table as it would stand on a display, without one.
///
/// \throws InputError from reading the load; where nobody knows the unit of a scan; where a moment of a cook
/// is wanted and none is told of \throws std::runtime_error if there is no way to draw here
SnapshotResult snapshot(const std::filesystem::path& load, const std::filesystem::path& models,
                        const Snapshot& what);

/// Opens the window and stays until it is left.
///
/// \param load the load or scan to begin with; nothing: the load opened last, or the demo load
/// \param scan_unit a scan's unit, as `scan_unit` takes it; "": it is asked for where the file does not tell
/// \throws NoDisplay if there is no display
void view(const std::optional<std::filesystem::path>& load, const std::string& scan_unit,
          const std::filesystem::path& models, const Storage& storage);

}  // namespace evenspit::viewer
