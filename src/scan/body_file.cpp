// SPDX-License-Identifier: MIT
#include "scan/body_file.h"

#include <vector>

#include "geometry/mesh_io.h"

namespace evenspit::scan {

std::string body_ply(const ScannedBody& scanned) {
    std::vector<std::string> comments{"metres"};
    if (const auto& covariance = scanned.report.centre_covariance_m2)
        comments.push_back(centre_covariance_comment(*covariance));
    if (scanned.report.scale_sigma) comments.push_back(scale_sigma_comment(*scanned.report.scale_sigma));
    const body::ScannedSkin skin = skin_of(scanned);
    if (!skin.bird.empty()) comments.push_back(bird_comment(skin.bird));
    for (std::size_t r = 0; r < skin.region_table.size(); ++r)
        comments.push_back(region_comment(r, skin.region_table[r].name));
    // Nobody looked into the hollow.
    std::vector<float> unseen = scanned.unseen;
    unseen.resize(skin.mesh.triangles.size(), 1);
    return labelled_ply(skin.mesh, skin.regions, comments, unseen);
}

}  // namespace evenspit::scan
