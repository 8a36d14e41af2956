// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "scan/board.h"
#include "scan/carrier.h"
#include "scan/points.h"
#include "scan/scan_note.h"
#include "scan/scan_progress.h"
#include "scan/scan_report.h"
#include "scan/scan_settings.h"
#include "scan/separate.h"
#include "scan/sheet.h"

namespace evenspit::scan {

/// One scan, cleaned; metres, frame of its file.
struct Pass {
    ScanPassReport report;  ///< its underside left open
    PointSet points;        ///< all of the scan
    std::optional<Board> board;
    Separated separated;
    ScanScale scale;
    ScannedSurface surface;
    double metres_per_unit = 1;
    RestsOn rests_on = RestsOn::automatic;  ///< as it was told
    std::optional<Carrier> carrier;  ///< between the board and the body; what belongs to it is cut away
    std::vector<ScanNote> notes;
};

/// Takes the body apart from board, clutter and strays, decides the unit, and averages the points to a sheet.
///
/// \throws InputError for a unit that cannot be (scan_unit.h), too few points, or nothing left
Pass clean(const RawScan& raw, const ScanSettings& settings, const ScanProgress& progress);

}  // namespace evenspit::scan
