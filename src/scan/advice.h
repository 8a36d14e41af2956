// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "geometry/mesh.h"
#include "scan/scan_note.h"
#include "scan/scan_report.h"

namespace evenspit::scan {

/// σ of points from which on they scatter too far: common practice.
inline constexpr double much_noise_m = 0.003;

/// Doubts of what is no bird: whether its weight can be that of meat, bone and all.
std::vector<ScanNote> doubt_density(double density_kg_m3);

/// What a better scan would need: sides that went unseen, points that scatter or are far apart.
///
/// \param mesh in the item frame \param support per vertex 0 (nothing was seen there) … 1
std::vector<ScanNote> advice_for(const TriangleMesh& mesh, const std::vector<double>& support, bool bird,
                                 const std::vector<ScanPassReport>& passes);

}  // namespace evenspit::scan
