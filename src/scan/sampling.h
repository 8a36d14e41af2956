// SPDX-License-Identifier: MIT
#pragma once

#include "geometry/scan_io.h"
#include "scan/points.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// The points of a scan: those of a cloud as they are, of more than one and a half million every n-th; of a
/// mesh, the middles of its triangles, large ones split first so that no piece is longer than a 200th of the
/// scene, with the triangles' normals.
PointSet sampled(const ScanFile& scan, const StopControl& control = {});

}  // namespace evenspit::scan
