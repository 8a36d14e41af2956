// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "scan/beside.h"
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
    PointSet points;        ///< all of the scan, but for the thing beside the body
    std::optional<Board> board;
    Separated separated;
    ScanScale scale;
    ScannedSurface surface;
    double metres_per_unit = 1;
    RestsOn rests_on = RestsOn::automatic;  ///< as it was told
    RoastKind kind = RoastKind::automatic;  ///< likewise
    std::optional<FoundBeside> beside;      ///< tells metres_per_unit; in the scan's own unit
    std::optional<Carrier> carrier;  ///< between the board and the body; what belongs to it is cut away
    bool seen_to_rim = false;        ///< nothing of the body was seen under a level rim, flanks neither
    std::vector<ScanNote> notes;
};

/// Samples a scan and looks for its board and for the thing beside the body: a pass in the scan's own unit.
///
/// \throws InputError for too few points, or where the thing is not found
Pass looked_over(const RawScan& raw, const ScanSettings& settings, const ScanProgress& progress);

/// Things beside the body in several scans tell each scan's scale. Where these are one within what the fits
/// leave open, they become one, so that the scans keep to each other.
///
/// \return σ of the scale of what is made of them, share; absent where nothing tells it
std::optional<double> agree_on_scale(std::vector<Pass>& passes);

/// Takes the body apart from board, clutter and strays, decides the unit, and averages the points to a sheet.
///
/// \throws InputError for a unit that cannot be (scan_unit.h), too few points, or nothing left
void clean(Pass& pass, const RawScan& raw, const ScanSettings& settings, const ScanProgress& progress);

}  // namespace evenspit::scan
