// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <optional>
#include <string_view>

#include "geometry/scan_io.h"
#include "geometry/types.h"
#include "scan/beside_thing.h"

namespace evenspit::scan {

/// What kind of body a scan is taken for.
enum class RoastKind {
    automatic,  ///< a bird if a bird fits it
    bird,
    roast,  ///< no bird, and solid beneath
    ribs,   ///< no bird, and hollow beneath
};

/// What a scanned body rests on.
enum class RestsOn {
    automatic,  ///< what is seen
    board,
    rack,
    stand,
    tin,  ///< or a deep plate
};

/// How raw scans become a body.
struct ScanSettings {
    std::optional<double> metres_per_unit;  ///< of formats that do not say; absent: guessed, or asked for
    std::optional<double> mass_kg;          ///< scale weight, giblets out
    RoastKind kind = RoastKind::automatic;
    RestsOn rests_on = RestsOn::automatic;
    std::optional<BesideThing> beside;  ///< stands beside the body in every scan, and tells how large it is
    bool keep_frame = false;            ///< the (first) file's own axes and origin instead of the item frame
    std::optional<Vec3> axis;  ///< in the file's axes, where the item's +x (neck) looks; absent: found
    std::optional<Vec3> up;    ///< in the file's axes, where the item's +z (breast) looks; absent: found

    /// Told the name of each stage as it begins. May throw to stop the work: nothing is left behind.
    std::function<void(std::string_view stage)> stage;
    /// Called all the while, at least every 0.2 s, on the thread that asked for the scan. May throw likewise.
    std::function<void()> keep_going;
};

/// How many scans of one body are taken together.
inline constexpr std::size_t most_scans = 8;

/// A raw scan and the file it came from.
struct RawScan {
    std::filesystem::path file;
    ScanFile content;
};

}  // namespace evenspit::scan
