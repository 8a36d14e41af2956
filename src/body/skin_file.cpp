// SPDX-License-Identifier: MIT
#include "body/skin_file.h"

#include <algorithm>
#include <utility>

#include "geometry/mesh_io.h"

namespace evenspit::body {

std::string skin_ply(const Body& body) {
    TriangleMesh mesh = body.parts.front().mesh;
    std::vector<std::uint8_t> regions = body.parts.front().regions;
    std::vector<std::string> names = region_names(body.region_table);
    for (const Part& part : body.parts) {
        // An open cavity's wall is skin already.
        if (part.kind != PartKind::cavity || part.parent < 0) continue;
        const auto at = static_cast<std::int32_t>(mesh.vertices.size());
        mesh.vertices.insert(mesh.vertices.end(), part.mesh.vertices.begin(), part.mesh.vertices.end());
        for (const Triangle& t : part.mesh.triangles) {
            mesh.triangles.push_back({t[0] + at, t[2] + at, t[1] + at});
        }
        if (regions.empty()) continue;
        if (std::find(names.begin(), names.end(), cavity_wall_name) == names.end())
            names.emplace_back(cavity_wall_name);
        const auto wall = std::find(names.begin(), names.end(), cavity_wall_name) - names.begin();
        regions.resize(mesh.triangles.size(), static_cast<std::uint8_t>(wall));
    }
    std::vector<std::string> comments{body.name + ", metres"};
    for (std::size_t i = 0; i < names.size() && !regions.empty(); ++i) {
        comments.push_back(region_comment(i, names[i]));
    }
    return labelled_ply(mesh, regions, comments);
}

}  // namespace evenspit::body
