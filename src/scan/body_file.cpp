// SPDX-License-Identifier: MIT
#include "scan/body_file.h"

#include <vector>

#include "geometry/mesh_io.h"

namespace evenspit::scan {

std::string body_ply(const ScannedBody& scanned) {
    std::vector<std::string> comments{"metres"};
    if (const auto& covariance = scanned.report.centre_covariance_m2)
        comments.push_back(centre_covariance_comment(*covariance));
    for (std::size_t r = 0; r < scanned.region_table.size(); ++r)
        comments.push_back(region_comment(r, scanned.region_table[r].name));
    return labelled_ply(scanned.mesh, scanned.regions, comments);
}

}  // namespace evenspit::scan
