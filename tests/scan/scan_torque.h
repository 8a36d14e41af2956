// SPDX-License-Identifier: MIT
// What a scan's error does to the torque that a motor is asked for.
#pragma once

#include "scan/scanned_body.h"
#include "scan_cases.h"

namespace evenspit::test {

/// A scanned body is put on a rod through its centre of mass, as near as the scan tells, and hands set it up
/// as they do. The share of loads of the true body, set up likewise on the same line, whose torque lies above
/// the 95th percentile that is told of the scanned one: 0.05 where errors are as large as told.
///
/// Both are of one density throughout and weigh the same: it is the skin that is looked at.
///
/// \param made of the case, in the frame of its (first) scan \param mountings of either
double share_over_told(const ScanCase& given, const scan::ScannedBody& made, std::size_t mountings = 1024);

}  // namespace evenspit::test
