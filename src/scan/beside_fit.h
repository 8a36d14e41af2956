// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scan/beside.h"
#include "scan/shape_search.h"

namespace evenspit::scan {

/// Points of a scan on its board made flat (Board::on_flat()), in the scan's unit.
struct OnFlatBoard {
    std::vector<Vec3> standing;  ///< higher than the cut
    std::vector<Vec3> ground;    ///< lower
    double cut = 0;
    double noise = 0;    ///< σ of the points
    double spacing = 0;  ///< √(area per point)
};

/// What became of a shape that might be the thing.
struct BesideTrial {
    std::optional<FoundBeside> found;
    std::string fault{};  ///< why it is not, where it nearly was; else empty
};

/// A cylinder taken for a can: its radius by least squares on the middle of its wall, clear of rims.
BesideTrial try_can(const FoundShape& shape, const OnFlatBoard& scene);

/// A plane taken for a block's top: its height over the board round its foot.
///
/// \param shapes all that were found; its walls are among them
BesideTrial try_block(const FoundShape& top, const std::vector<FoundShape>& shapes,
                      const std::vector<Vec3>& shape_points, const OnFlatBoard& scene);

}  // namespace evenspit::scan
