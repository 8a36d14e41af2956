// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "geometry/types.h"
#include "scan/beside_thing.h"
#include "scan/scan_note.h"

namespace evenspit::scan {

/// A thing of known size that was found beside the body.
struct BesideReport {
    BesideThing thing;
    double metres_per_unit = 1;  ///< as this scan alone has it
    double sigma = 0;            ///< of that, share
    std::size_t points = 0;      ///< that lie on it
};

/// What became of one raw scan.
struct ScanPassReport {
    std::string file;
    std::size_t points = 0;      ///< in the file
    std::size_t triangles = 0;   ///< in the file
    std::size_t sampled = 0;     ///< points taken: those of a cloud, or places all over a mesh
    std::size_t not_finite = 0;  ///< points dropped for that
    std::size_t kept = 0;        ///< points of the body
    std::size_t on_board = 0;    ///< points of the board or below it
    std::size_t clutter = 0;     ///< points in pieces of their own
    std::size_t strays = 0;      ///< lone points
    int clutter_pieces = 0;
    std::optional<BesideReport> beside;
    bool board = false;         ///< a board was found and cut
    double board_tilt_deg = 0;  ///< between the board's normal and the nearest axis of the file
    double board_warp_m = 0;    ///< how far the board departs from a plane under the body
    double noise_m = 0;         ///< σ of the body's points
    double spacing_m = 0;       ///< √(area per point)
    std::string underside;      ///< how it was closed: "round", "bird", "smooth", "flat"; empty: not
    double underside_area_m2 = 0;
    double guess_error_m = 0;  ///< how far what was followed there lies from what was seen beside it
};

/// How scans were brought together; of more than two, the worst figures.
struct RegistrationReport {
    double error_m = 0;    ///< root mean square, where both saw the same
    double overlap = 0;    ///< share of the second that the first saw too
    double agreement = 0;  ///< of what both could see, the share on which they agree
    double rival = 0;      ///< merit of the next best way to lie against the best: 0 … 1
};

/// Where the item's axes come from.
enum class AxesFrom {
    bird,            ///< fitted
    principal_axes,  ///< of the body
    user,            ///< who named one or both
    file             ///< they are its own
};

/// What a scan became, and how far it may be trusted.
struct ScanReport {
    std::vector<ScanPassReport> passes;
    double metres_per_unit = 1;
    std::optional<double> scale_sigma;  ///< of that, share, where a thing beside the body told it
    std::optional<RegistrationReport> registration;

    double volume_m3 = 0;
    double volume_sigma_m3 = 0;      ///< one standard deviation; holds scale_sigma, where there is one
    double volume_by_chords_m3 = 0;  ///< second way: lengths of parallel chords
    Vec3 centre_m = Vec3::Zero();    ///< of the volume, in the frame of the body
    /// How the centre's error spreads by what closed places may miss, in the frame of the body; absent for
    /// a surface that came closed and does not say.
    std::optional<Mat3> centre_covariance_m2;
    /// Root mean square of that error, and of what scale_sigma moves it from the middle of the body's box; 0
    /// where it is absent.
    double centre_sigma_m = 0;
    double area_m2 = 0;
    Vec3 size_m = Vec3::Zero();  ///< box in the item frame
    std::size_t triangles = 0;
    int holes = 0;            ///< unseen places that were closed
    double unseen_share = 0;  ///< of the surface
    std::size_t self_intersections = 0;
    bool closed = false;
    int pieces_dropped = 0;  ///< shells inside or beside the body

    double offset_before_m = 0;  ///< mean height of the points over the wrap: the bias taken away
    double offset_after_m = 0;   ///< what is left of it
    double distance_mean_m = 0;  ///< of the kept points from the body
    double distance_p95_m = 0;
    double distance_max_m = 0;

    bool bird = false;
    std::string kind;  ///< of bird, the likeliest; else "other"
    AxesFrom axes_from = AxesFrom::principal_axes;
    double axis_confidence = 0;  ///< 0 … 1, that the ends and the up are the right way round
    double bird_error_m =
        0;  ///< root mean square distance of the scan from the fitted bird; 0 if none was tried

    std::optional<double> mass_kg;
    std::optional<double> density_kg_m3;  ///< weight over volume, cavity counted as body
    std::optional<double> cavity_m3;      ///< inferred hollow
    bool cavity_from_mass = false;        ///< from the weight; else from the anatomy alone

    std::vector<ScanNote> remarks;  ///< assumptions and doubts
    std::vector<ScanNote> advice;   ///< what a better scan would need
};

}  // namespace evenspit::scan
