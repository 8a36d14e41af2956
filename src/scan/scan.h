// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "scan/scan_settings.h"
#include "scan/scanned_body.h"

namespace evenspit::scan {

/// Makes one closed body of one scan, or of several that see it lying on different sides.
///
/// For each scan: unit, board, body apart from board, clutter and strays, points averaged to a sheet;
/// several sheets are registered and merged; with one, the side on the board is closed. Then the sheet is
/// wrapped, the wrap's bias is measured and taken away, and closedness, self-intersections and volume (by two
/// ways) are checked. A bird is fitted for axes, parts and cavity.
///
/// A surface that is already closed, and not on a board, is kept as it is; of one that is smooth but for a
/// few small holes, these are filled.
///
/// \throws InputError for no scan or more than most_scans, a unit that cannot be (scan_unit.h), too few
/// points, nothing left after cleaning,
///         scans that do not fit each other
ScannedBody make_body(const std::vector<RawScan>& scans, const ScanSettings& settings);

}  // namespace evenspit::scan
