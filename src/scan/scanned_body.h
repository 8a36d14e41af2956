// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "body/body.h"
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
    double density_kg_m3 = 0;  ///< natural density of a bird's flesh and bone together; 0 for what is no bird
    ScanReport report;
};

/// The body for a load: flesh with its regions, and the inferred cavity as an empty part inside it.
///
/// With a weight, the densities are scaled to it; without one the flesh has that of the parametric birds, or
/// of meat.
body::Body to_body(const ScannedBody& scanned, const std::string& name, std::optional<double> mass_kg);

}  // namespace evenspit::scan
