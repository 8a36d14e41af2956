// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "body/body.h"
#include "geometry/scan_io.h"
#include "scan/scan_report.h"

namespace evenspit {

/// What kind of body a scan is taken for.
enum class RoastKind {
    automatic,  ///< a bird if a bird fits it
    bird,
    other,
};

/// How raw scans become a body.
struct ScanSettings {
    std::optional<double> metres_per_unit;  ///< of formats that do not say; absent: guessed, or asked for
    std::optional<double> mass_kg;          ///< scale weight, giblets out
    RoastKind kind = RoastKind::automatic;
    bool keep_frame = false;   ///< the (first) file's own axes and origin instead of the item frame
    std::optional<Vec3> axis;  ///< in the file's axes, where the item's +x (neck) looks; absent: found
    std::optional<Vec3> up;    ///< in the file's axes, where the item's +z (breast) looks; absent: found

    /// Told the name of each stage as it begins. May throw to stop the work: nothing is left behind.
    std::function<void(std::string_view stage)> stage;
};

/// A raw scan and the file it came from.
struct RawScan {
    std::filesystem::path file;
    ScanFile content;
};

/// A closed body made from scans.
struct ScannedBody {
    TriangleMesh mesh;  ///< closed, outward, free of self-intersections; metres, item frame (or the file's)
    std::vector<std::uint8_t>
        regions;  ///< per triangle an index into region_names; empty for what is no bird
    std::vector<std::string> region_names;
    std::optional<TriangleMesh>
        cavity;  ///< where a bird's hollow is supposed, same frame: inside, apart from the skin
    Pose to_item = Pose::Identity();  ///< frame of the (first) scan in metres → item frame
    bool bird = false;
    double density_kg_m3 = 0;  ///< natural density of a bird's flesh and bone together; 0 for what is no bird
    ScanReport report;
};

/// Makes one closed body of one scan, or of two that see it lying on different sides.
///
/// For each scan: unit, board, body apart from board, clutter and strays, points averaged to a sheet; two
/// sheets are registered and merged; with one, the side on the board is closed. Then the sheet is wrapped,
/// the wrap's bias is measured and taken away, and closedness, self-intersections and volume (by two ways)
/// are checked. A bird is fitted for axes, parts and cavity.
///
/// A surface that is already closed, and not on a board, is kept as it is.
///
/// \throws InputError for no scan or more than two, a unit that cannot be (scan_unit.h), too few points,
/// nothing left after cleaning,
///         two scans that do not fit each other
ScannedBody scan_body(const std::vector<RawScan>& scans, const ScanSettings& settings);

/// The body for a load: flesh with its regions, and the inferred cavity as an empty part inside it.
///
/// With a weight, the densities are scaled to it; without one the flesh has that of the parametric birds, or
/// of meat.
Body to_body(const ScannedBody& scanned, const std::string& name, std::optional<double> mass_kg);

}  // namespace evenspit
