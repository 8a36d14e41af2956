// SPDX-License-Identifier: MIT
// A phone that walks round a body lying on a board, for tests: scans with the faults of real ones and known
// truth.
#pragma once

#include <cstdint>
#include <vector>

#include "geometry/mesh.h"

namespace evenspit::test {

/// One walk round the body at one height. The camera always looks at the middle of the body.
struct ScanRound {
    double distance_m = 0.5;    ///< from the eye to the middle of the body
    double elevation_deg = 35;  ///< of the eye above the horizon, −90 … 90
    double from_deg = 0;        ///< azimuth of the first view about the vertical
    double span_deg = 360;      ///< azimuth walked; less than a whole turn leaves a side unseen
    int views = 10;             ///< depth pictures, evenly spaced
};

/// A depth camera and what is wrong with it.
struct DepthCamera {
    int width = 320, height = 240;  ///< pixels
    double field_of_view_deg = 50;  ///< across the width

    double noise_m = 0;  ///< σ along the ray at `noise_distance_m`, each pixel for itself
    double noise_distance_m =
        0.5;                      ///< σ grows with the square of the distance from here, as in triangulation
    double waviness_m = 0;        ///< σ of a depth error that neighbours share, at `noise_distance_m`
    int waviness_pixels = 16;     ///< how far neighbours share it
    double normal_noise_deg = 0;  ///< σ of each of the two tilts of a normal

    double grazing_deg = 80;  ///< surfaces seen more obliquely than this (from their normal) give nothing
    double dropout = 0;       ///< share of pixels lost at random, 0 … 1
    int patches = 0;          ///< holes a view: round patches of lost pixels (glare, wet skin)
    double patch_pixels = 8;  ///< their radius
    double flying_share = 0;  ///< share of silhouette pixels that give a depth between front and back
};

/// What carries the body.
enum class Rest : std::uint8_t {
    board,
    rack,   ///< wires on four legs, `rest_height_m` over the board
    stand,  ///< a can under the body's middle
    plate,  ///< deep, with a rim as high as `rest_height_m`; where the body is wider, it hangs over
    tin     ///< four walls as high as `rest_height_m`, a finger's breadth off the body
};

/// A thing of known size that stands beside the body.
struct ThingBeside {
    enum class Kind : std::uint8_t { can, block };
    Kind kind = Kind::can;
    Vec3 size_m = {0.073, 0.073, 0.11};  ///< of its box, the height last; a can is as wide as the first says
    double azimuth_deg = 60;             ///< where it stands, from the body's middle
    double gap_m = 0.05;                 ///< from the circle round the body
    double turn_deg = 20;                ///< of a block, about the vertical
    double rim_m = 0;                    ///< how far the rims of a can stand out
};

/// What lies round the body. The board's top is z = 0 of the board frame; the body lies at its middle.
struct ScanSurroundings {
    bool board = true;
    Vec2 board_size_m = {0.6, 0.45};
    double board_thickness_m = 0.02;
    double board_sag_m =
        0;  ///< how much lower than its rim the middle of a warped board is; the body lies in the dip
    Rest rest = Rest::board;
    double rest_height_m = 0.03;
    int clutter = 0;  ///< boxes, cans and balls standing about, none nearer than `clutter_gap_m` to the body
    double clutter_gap_m = 0.04;  ///< from the circle round the body
    std::vector<ThingBeside> beside{};
};

enum class ScanForm {
    cloud,        ///< points only
    depth_sheets  ///< each view's pixels triangulated where depth does not jump: overlapping open sheets
};

/// How a scan is taken. Same options, same body: same scan, to the last bit.
struct ScanOptions {
    std::uint64_t seed = 1;

    /// How the body lies: body frame → board frame before it is put down. Only the turn counts: the body is
    /// moved so that the middle of its box is above the board's middle and its lowest point lies on the
    /// board.
    Mat3 lies = Mat3::Identity();

    std::vector<ScanRound> rounds = {{0.5, 20, 0, 360, 10}, {0.5, 50, 15, 360, 10}};
    DepthCamera camera;
    ScanSurroundings surroundings;

    double drift_m = 0;       ///< σ of each coordinate of the pose error that a round gathers, step by step
    double drift_deg = 0;     ///< σ of each of its turns, about the middle of the body
    double round_jump_m = 0;  ///< σ of each coordinate of the pose error added between rounds
    double round_jump_deg = 0;  ///< σ of each of its turns

    bool own_axes = true;  ///< the scan frame is turned and moved at random; false: it is the board frame
    double metres_per_unit = 1;  ///< 0.001: coordinates come out in millimetres
    std::size_t points = 0;      ///< exactly so many, drawn at random from all seen (fewer only if fewer were
                                 ///< seen); 0: all. Of depth sheets all are kept.
    ScanForm form = ScanForm::cloud;
    bool normals = false;  ///< give normals, toward the camera
};

/// What a point of a scan really is.
enum class ScannedThing : std::uint8_t { body, board, rest, clutter, flying, beside };

/// A scan, and the truth behind it.
struct SimulatedScan {
    TriangleMesh mesh;          ///< scan frame, in units of `metres_per_unit`; no triangles for a cloud
    std::vector<Vec3> normals;  ///< per vertex, unit, scan frame; empty unless asked for
    std::vector<ScannedThing> things;  ///< per vertex
    double metres_per_unit = 1;

    Pose body_pose = Pose::Identity();  ///< body frame → scan frame, m: where the body really lay
    Vec3 board_up = Vec3::UnitZ();      ///< scan frame
    Vec3 board_point = Vec3::Zero();    ///< middle of the board's top, scan frame, m
    std::vector<Vec3> eyes;             ///< where each view was really taken from, scan frame, m
    double seen_share = 0;              ///< share of the body's area whose triangles gave at least one point
};

/// Scans a body lying on a board.
///
/// Each view is a pinhole depth picture of the whole scene (all occlusions come from it), spoiled as
/// `options` say, and taken back to the scan frame with the pose the phone believed it had.
///
/// \param body closed, outward, metres
/// \throws std::invalid_argument if the body is empty or an option is out of its range
SimulatedScan simulate_scan(const TriangleMesh& body, const ScanOptions& options);

/// The turn of a body that lies as `lies` says after it was rolled half over about its own x axis and set
/// down askew by `askew_deg` about the vertical: the second of two scans that together see all round.
Mat3 turned_over(const Mat3& lies, double askew_deg);

}  // namespace evenspit::test
