// SPDX-License-Identifier: MIT
// Scans with a can or a block beside the body, of known size and scale.
#pragma once

#include <cstdint>

#include "scan/beside_thing.h"
#include "scan_cases.h"

namespace evenspit::test {

/// A body that no guess knows, a thing beside it, and a scan of both in a unit that nobody told.
struct BesideCase {
    ScanCase scan;               ///< its settings name the thing, to whole millimetres
    double metres_per_unit = 1;  ///< the truth
};

/// \param two_scans as it lies and turned over, each with the thing
BesideCase beside_case(scan::BesideThing::Kind kind, std::uint64_t seed, bool two_scans = false);

}  // namespace evenspit::test
