// SPDX-License-Identifier: MIT
// Bodies and scans of them with known truth, one for each seed; and what the scan room makes of them.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geometry/mesh.h"
#include "scan/scan.h"
#include "support/scan_simulator.h"

namespace evenspit::test {

/// A body in a frame of its own: a bird's item frame, or the axes in which a roast was made.
struct TrueBody {
    TriangleMesh skin;  ///< closed, m
    bool bird = false;
    double scale = 1;  ///< of the reference bird
};

/// A bird whose proportions, size and surface differ from those of any parametric bird: each proportion by 8
/// % (σ), the skin by waves of some millimetres that no parameter describes.
TrueBody random_bird(std::uint64_t seed);

/// A roast without a name: an egg-like body, flattened, bent and dented.
TrueBody random_roast(std::uint64_t seed);

/// How a phone might scan it: noise of 1 to 4 mm, a walk that misses a part, board, clutter, strays, drift.
ScanOptions random_scan(std::uint64_t seed);

/// A body, scans of it, and what the scan room is told.
struct ScanCase {
    TrueBody body;
    std::vector<scan::RawScan> scans;
    Pose body_pose = Pose::Identity();  ///< body frame → frame of the first scan, m
    double noise_mm = 0;
    double missing = 0;  ///< share of the true surface that gave no point in the first scan
    scan::ScanSettings settings;
};

/// One scan, or two (as it lies and turned over), in the file's own frame.
ScanCase scanned(const TrueBody& body, const ScanOptions& options, bool two_scans);

/// What came of one case.
struct Outcome {
    std::uint64_t seed = 0;
    double noise_mm = 0;
    double missing = 0;        ///< share of the true surface that gave no point
    double volume = 0;         ///< error, share
    double volume_sigma = 0;   ///< told, share
    double volume_sigmas = 0;  ///< error in the report's own standard deviations
    double centre_mm = 0;      ///< error of the centre of mass
    double centre_sigmas = 0;  ///< error in the report's own standard deviations
    double radius_mm = 0;      ///< error of the greatest radius about the true x axis
    double axis_deg = 0;       ///< error of the x axis; birds only
    double up_deg = 0;         ///< error of the z axis; birds only
    double confidence = 0;
    bool taken_for_bird = false;
    std::string underside;
    std::string rests_on;  ///< as it was found: "board", "rack", "stand", "tin"
    double seconds = 0;    ///< that it took; 0: not measured
    double over_told = 0;  ///< as share_over_told() says; 0: not looked at
    scan::ScanReport report;
};

/// Makes a body of the scans and compares. \throws InputError where they are refused
Outcome outcome_of(const ScanCase& given, std::uint64_t seed);

/// Compares a body that was made of a case.
Outcome compared(const ScanCase& given, const scan::ScannedBody& found, std::uint64_t seed);

/// Scans a body once, or twice, as random_scan() says, makes a body of it and compares.
Outcome try_case(const TrueBody& body, std::uint64_t seed, bool two_scans);

/// The value below which a share of the values lie.
double percentile(std::vector<double> values, double share);

}  // namespace evenspit::test
