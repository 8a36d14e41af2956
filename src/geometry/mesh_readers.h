// SPDX-License-Identifier: MIT
// Inside of read_mesh() and read_scan_file(): one reader a format. Not for other rooms.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/mesh.h"
#include "geometry/mesh_io.h"

namespace evenspit::mesh_readers {

/// A whole file in memory.
struct Source {
    std::filesystem::path path;
    std::string_view bytes;
};

/// What a reader finds: triangles as the file has them, not welded but for what `joined` counts.
struct Soup {
    std::vector<Vec3> points;
    std::vector<Triangle> triangles;
    std::vector<std::int32_t> regions;      ///< as long as triangles, or empty
    std::vector<std::string> region_names;  ///< as in MeshFile
    std::vector<Vec3> normals;              ///< as the file has them, as long as points, or empty
    std::optional<Mat3> centre_covariance;  ///< as in MeshFile
    std::optional<double> scale_sigma;      ///< as in MeshFile
    std::string bird;                       ///< as in MeshFile
    std::vector<float> unseen;              ///< as long as triangles, or empty
    std::size_t joined = 0;                 ///< points that the reader has put to others at their place
    bool apart = false;                     ///< no two points that are left lie at one, and each is named

    /// Splits a polygon into the triangles at its first corner; fewer than three corners make none.
    ///
    /// A dent may leave some of them turned over and outside the polygon. What a volume or a line counts
    /// stays right, as these take away what the others have too much.
    void add_polygon(std::span<const std::int32_t> corners);
};

/// Joins points at exactly the same place; drops points that no triangle names and triangles that name one
/// twice.
MeshFile weld(Soup soup);

/// Throws the InputError for a file that cannot be used. `line` counts from 1; 0 where lines mean nothing.
[[noreturn]] void refuse(const Source& source, int line, std::string found, std::string expected,
                         std::string mend = {});

/// The readers throw InputError for a file that breaks its format, and check every count against the file's
/// size before they trust it.
Soup read_ply(const Source& source);
/// The same, but faces may be missing.
Soup read_ply_points(const Source& source);
Soup read_stl(const Source& source);
Soup read_obj(const Source& source);
Soup read_off(const Source& source);
Soup read_gltf(const Source& source);
Soup read_xyz(const Source& source);
Soup read_pts(const Source& source);
Soup read_pcd(const Source& source);

}  // namespace evenspit::mesh_readers
