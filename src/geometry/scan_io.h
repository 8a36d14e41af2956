// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string_view>
#include <vector>

#include "geometry/mesh.h"

namespace evenspit {

/// What a file of a scan held: points, and triangles if it had them.
struct ScanFile {
    TriangleMesh mesh;  ///< as in the file, not welded, without the walls of closed hollows that it names; no
                        ///< triangles for a cloud; in metres if metres_per_unit is set
    std::vector<Vec3> normals;                ///< per vertex, unit, from formats that give them; else empty
    std::optional<double> metres_per_unit;    ///< set for formats that define their unit (glTF: 1)
    std::size_t not_finite = 0;               ///< points left out because a coordinate was NaN or infinite
    std::optional<Mat3> centre_covariance{};  ///< of a body that was made of a scan before, as in MeshFile
    std::optional<double> scale_sigma{};      ///< likewise
    std::vector<float> unseen{};              ///< likewise, a share a triangle
};

/// Reads a mesh (PLY, STL, OBJ, OFF, glTF, GLB) or a cloud of points (PLY, OBJ and OFF without faces; glTF
/// and GLB of points; PCD as text, binary or compressed; XYZ, XYZN, XYZRGB, TXT, ASC, CSV, PWN and PTS).
/// Colours and what else there may be are left unread.
///
/// XYZ and its like: a point a line, x y z set apart by blanks, commas or semicolons, and perhaps a normal
/// (three more numbers of length one on every line), what follows is passed over; lines of a single number
/// are counts; the first line may name the columns; comments start with # or //. A normal that is not finite
/// or has no length makes all normals unknown.
///
/// \throws InputError (file, line where it has lines, what was found, what to do) if the file cannot be
/// opened, is of an unknown kind,
///         is truncated, claims more than it holds, or has no points
ScanFile read_scan_file(const std::filesystem::path& path);

/// The same for bytes in memory, as if they stood in a file of that name, as for read_mesh_bytes().
ScanFile read_scan_bytes(std::string_view bytes, const std::filesystem::path& name);

/// Whether a name's ending is that of a format that read_scan_file() reads.
bool is_scan_name(const std::filesystem::path& path);

}  // namespace evenspit
