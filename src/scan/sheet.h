// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

#include "scan/board.h"
#include "scan/points.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// A surface as small discs: noise averaged out, one layer, all facing outward.
struct Sheet {
    std::vector<Vec3> positions;  ///< m
    std::vector<Vec3> normals;    ///< unit, outward
    std::vector<double> areas;    ///< m2, what each disc stands for
    std::vector<bool> invented;   ///< closes what was not seen

    [[nodiscard]] std::size_t size() const { return positions.size(); }
    void append(const Sheet& other);
    /// Adds a disc where nothing was seen. \param normal unit, outward
    void invent(const Vec3& place, const Vec3& normal, double area_m2);
};

/// Lengths that follow from how a body was scanned; all in the unit of its points.
struct ScanScale {
    double spacing = 0;  ///< between the discs of the sheet, and of the wrap's grid
    double patch = 0;    ///< radius over which the surface is averaged
    double noise = 0;    ///< σ of the points

    /// Fine enough for a body of this size, coarse enough for its points.
    static ScanScale of(double diagonal, const SurfaceSurvey& surface);
};

/// The scanned side of a body.
struct ScannedSurface {
    Sheet sheet;
    PointSet points;  ///< what the sheet was averaged from: thinned, each with the outward direction of the
                      ///< sheet near it
};

/// Averages the points of a body into a sheet.
///
/// Each point is moved onto the plane of least squares of its weighted neighbours, twice (moving least
/// squares of first order), then one is kept for each cube of side `spacing` and moved onto the points again
/// by a fit of second order (SurfaceFit), for planes cut corners. Outward is where the open air is: every
/// disc is looked at from many sides (from above the board only, if there is one) and faces those from which
/// nothing hides it. The points' own normals decide instead if neighbours agree; should most of them look
/// inward, all are turned over.
ScannedSurface make_sheet(const PointSet& body, const ScanScale& scale, const std::optional<Board>& board,
                          const StopControl& control = {});

}  // namespace evenspit::scan
