// SPDX-License-Identifier: MIT
// What holds for the reader of any format.
#pragma once

#include <string>
#include <string_view>

#include "finding.h"
#include "geometry/mesh_io.h"
#include "geometry/scan_io.h"
#include "units/error.h"

namespace evenspit::fuzz {

inline void demand_indices(const TriangleMesh& mesh) {
    for (const Triangle& triangle : mesh.triangles) {
        for (const std::int32_t corner : triangle) {
            demand(corner >= 0 && std::size_t(corner) < mesh.vertices.size(), "a corner without a vertex");
        }
    }
}

/// `name` need not exist; its ending tells the format.
inline void read_as_mesh(std::string_view bytes, const std::string& name) {
    try {
        const MeshFile file = read_mesh_bytes(bytes, name);
        demand(!file.mesh.triangles.empty(), "a mesh without triangles");
        demand_indices(file.mesh);
        demand(file.regions.empty() || file.regions.size() == file.mesh.triangles.size(),
               "regions for some triangles only");
    } catch (const InputError&) {
    }
}

inline void read_as_scan(std::string_view bytes, const std::string& name) {
    try {
        const ScanFile file = read_scan_bytes(bytes, name);
        demand(!file.mesh.vertices.empty(), "a scan without points");
        demand_indices(file.mesh);
        for (const Vec3& point : file.mesh.vertices) demand(point.allFinite(), "a point that is nowhere");
        demand(file.normals.empty() || file.normals.size() == file.mesh.vertices.size(),
               "normals for some points only");
    } catch (const InputError&) {
    }
}

}  // namespace evenspit::fuzz
