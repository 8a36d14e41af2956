// SPDX-License-Identifier: MIT
#pragma once

#include "scan/resting.h"
#include "scan/scan_settings.h"

namespace evenspit::scan {

/// Whether a body stands hollow on its board, as ribs do, and how far. One scan does not show it.
struct Hollow {
    double odds = 0;   ///< 0 … 1, that it does
    double rise = 0;   ///< of the body's height: how high the hollow is taken to be in its middle
    double sigma = 0;  ///< of the volume: what of it is left unknown
    bool ask = false;  ///< whether the answer would change much
};

/// What the seen part of a body tells of it. A hollow body is low for its width, was seen down to near the
/// board, and its flanks do not curve under; where the board was seen far in, the hollow is high.
///
/// \param guess_error_m how far a round body misses what was seen: where it is far off, as of a bird that
/// lies spread, low and wide says nothing \param told solid (roast), hollow (ribs), or not
Hollow hollow_beneath(const Resting& resting, double guess_error_m, RoastKind told);

}  // namespace evenspit::scan
