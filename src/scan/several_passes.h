// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "scan/skin.h"

namespace evenspit::scan {

/// The skin of a body of two scans or more, in the frame of the first: each is closed roughly, each is
/// brought onto one that is in place, and all are merged. Those that all saw the body lying the same way are
/// closed as one would be.
///
/// \throws InputError for a scan that fits none of the others
Skin skin_of_several(const std::vector<Pass>& passes, const ScanSettings& settings,
                     const ScanProgress& progress);

}  // namespace evenspit::scan
