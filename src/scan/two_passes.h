// SPDX-License-Identifier: MIT
#pragma once

#include "scan/skin.h"

namespace evenspit::scan {

/// The skin of a body of two scans, in the frame of the first: each is closed roughly, the second is brought
/// onto the first, and both are merged. Two that saw the body lying the same way are closed as one would be.
///
/// \throws InputError for two scans that do not fit each other
Skin skin_of_two(const Pass& first, const Pass& second, const ScanSettings& settings,
                 const ScanProgress& progress);

}  // namespace evenspit::scan
