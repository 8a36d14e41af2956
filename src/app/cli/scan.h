// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "app/cli/words.h"
#include "geometry/types.h"
#include "scan/scan_settings.h"

namespace evenspit {

/// What is told of raw scans beside their files.
struct ScanRequest {
    std::optional<double> metres_per_unit{};
    std::optional<double> mass_kg{};
    std::optional<Vec3> axis{}, up{};  ///< in the (first) file's axes, not null
    bool keep_frame = false;           ///< of the (first) file
    scan::RestsOn rests_on = scan::RestsOn::automatic;
    scan::RoastKind kind = scan::RoastKind::automatic;
    std::optional<scan::BesideThing> beside{};
};

/// \throws UsageError for what is no unit, weight, frame or direction
ScanRequest scan_request(const Words& words);

}  // namespace evenspit
