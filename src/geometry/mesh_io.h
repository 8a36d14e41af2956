// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <optional>

#include "geometry/mesh.h"

namespace evenspit {

/// What a mesh file held.
struct MeshFile {
    TriangleMesh mesh;                     ///< in the file's own unit if metres_per_unit is absent, else already in metres
    std::optional<double> metres_per_unit; ///< set for formats that define their unit (glTF: 1)
    std::size_t welded = 0;                ///< vertices that fell together (formats that store each triangle alone)
};

/// Reads PLY, STL (text or binary), OBJ, OFF, glTF and GLB; polygons are split into triangles, vertices at exactly the same
/// place are welded, unused vertices dropped. glTF nodes are placed by their transforms.
///
/// \throws InputError (file, what was found, what to do) if the file cannot be opened, is of an unknown kind, is truncated, claims
///         more than it holds, or has no triangles. Whether the mesh is a solid is check_solid()'s question.
MeshFile read_mesh(const std::filesystem::path& path);

/// Writes PLY (binary, double precision), STL (binary), OBJ or OFF by the name's ending. The file appears whole or not at all.
///
/// \throws InputError if the ending is unknown or the file cannot be written.
void write_mesh(const std::filesystem::path& path, const TriangleMesh& mesh);

}  // namespace evenspit
