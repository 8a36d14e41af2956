// SPDX-License-Identifier: MIT
// Points and scans made for tests of the scan room.
#pragma once

#include <cstddef>
#include <functional>
#include <vector>

#include "geometry/mesh.h"
#include "scan/sheet.h"
#include "support/meshes.h"
#include "support/scan_simulator.h"

namespace evenspit::test {

/// Points scattered evenly over a mesh, each off it by a normal error of σ `noise_m` along its triangle's
/// normal.
std::vector<Vec3> scattered(const TriangleMesh& mesh, std::size_t count, double noise_m);

/// A sheet as one would want it: a disc at each of `count` scattered points, with the triangle's normal and
/// the share of the area.
scan::Sheet sheet_on(const TriangleMesh& mesh, std::size_t count);

/// The discs that `seen` lets through.
scan::Sheet part_of(const scan::Sheet& whole,
                    const std::function<bool(const Vec3& place, const Vec3& normal)>& seen);

/// What may differ between small scans of a roast.
struct RoastScan {
    double noise_m = 0.0015;
    double sag_m = 0;
    int clutter = 0;
    double flying_share = 0;
    std::size_t points = 60000;
    bool turned_over = false;
};

/// An egg with half axes 150, 90 and 70 mm, its thin end at +x, bent and with a bump, so that no turn brings
/// it onto itself: closed, m.
TriangleMesh roast();

/// A scan of roast() on a board, the frame of the scan turned and moved at random.
SimulatedScan roast_scan(const RoastScan& wanted);

}  // namespace evenspit::test
