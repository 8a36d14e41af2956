// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "scan/points.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// What the scanned thing lies on: a plane, or one that is slightly warped.
struct Board {
    /// Scan frame → board frame: z up, away from the board on the side where the body lies; z = 0 in the
    /// plane of least squares.
    Pose to_board = Pose::Identity();
    /// Height of the board over (x, y) of the board frame: c0 + c1 x + c2 y + c3 x² + c4 x y + c5 y².
    Eigen::Matrix<double, 6, 1> surface = Eigen::Matrix<double, 6, 1>::Zero();
    double noise = 0;         ///< σ of the board's points about it, robust
    double share = 0;         ///< of the scan's points, how many lie on it
    bool carries = true;      ///< the body lies on it; false: it ends somewhere above, nobody knows where
    double height_sigma = 0;  ///< how far off the height may be on which the body lies; a board's own is none

    [[nodiscard]] double height_of_board(double x, double y) const {
        return surface.dot(Eigen::Matrix<double, 6, 1>(1, x, y, x * x, x * y, y * y));
    }
    /// How far above the board a place of the board frame is.
    [[nodiscard]] double above(const Vec3& in_board_frame) const {
        return in_board_frame.z() - height_of_board(in_board_frame.x(), in_board_frame.y());
    }
    /// Where a place of the scan frame lies when the board is made flat: x, y of the board frame, z the
    /// height above the board.
    [[nodiscard]] Vec3 on_flat(const Vec3& in_scan) const {
        const Vec3 q = to_board * in_scan;
        return {q.x(), q.y(), above(q)};
    }
    /// The way back of on_flat().
    [[nodiscard]] Vec3 from_flat(const Vec3& flat) const {
        return to_board.inverse() * Vec3(flat + height_of_board(flat.x(), flat.y()) * Vec3::UnitZ());
    }
};

/// The same board after all lengths were multiplied by `factor` > 0.
Board scaled(const Board& board, double factor);

/// A level board. \param at a place on it \param up unit, scan frame
Board level_board(const Vec3& at, const Vec3& up);

/// Finds what the body lies on, in any unit and any axes.
///
/// Planes are proposed by single points with their normals and counted (RANSAC: M. Fischler, R. Bolles, Comm.
/// ACM 24(6):381–395, 1981). The fullest one is taken that a thing can lie on: among the points over it
/// nearly all are on one side, the largest thing on that side comes down to it, and it can be seen around
/// that thing's foot (a body's own flat underside cannot). Then its warp is fitted near that thing.
///
/// \return nothing if there is no board: an object scanned in the air, or cut free by someone else
std::optional<Board> find_board(const PointSet& points, const StopControl& control = {});

}  // namespace evenspit::scan
