// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "body/body.h"
#include "body/scanned_skin.h"
#include "scan/scan_report.h"

namespace evenspit::scan {

/// A closed body made from scans.
struct ScannedBody {
    TriangleMesh mesh;  ///< closed, outward, free of self-intersections; metres, item frame (or the file's)
    std::vector<std::uint8_t>
        regions;  ///< per triangle an index into region_table; empty for what is no bird
    std::vector<body::Region> region_table;
    std::optional<TriangleMesh>
        cavity;  ///< where a bird's hollow is supposed, same frame: inside, apart from the skin
    Pose to_item = Pose::Identity();  ///< frame of the (first) scan in metres → item frame
    bool bird = false;
    std::vector<float> unseen;  ///< per triangle of the mesh the share that no point backs, 0 … 1
    ScanReport report;
};

/// What is kept of it: the skin with its regions, and the wall of the inferred cavity. BODY.ply holds the
/// same.
body::ScannedSkin skin_of(const ScannedBody& scanned);

/// The body for a load, just as BODY.ply makes it (body::body_of()).
body::Body to_body(const ScannedBody& scanned, const std::string& name, std::optional<double> mass_kg,
                   std::optional<double> density_kg_m3 = std::nullopt);

}  // namespace evenspit::scan
