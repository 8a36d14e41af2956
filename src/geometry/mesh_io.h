// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/mesh.h"

namespace evenspit {

/// What a mesh file held.
struct MeshFile {
    TriangleMesh mesh;  ///< in the file's own unit if metres_per_unit is absent, else already in metres
    std::optional<double> metres_per_unit;  ///< set for formats that define their unit (glTF: 1)
    std::size_t welded = 0;  ///< vertices that fell together (formats that store each triangle alone)
    std::vector<std::int32_t>
        regions;  ///< one number a triangle, from a PLY's face property `region`; else empty
    /// Their names by number, from a PLY's comments (see region_comment()); "" for a number without one.
    std::vector<std::string> region_names;
    /// How far the centre of volume may be off, squares of the mesh's unit, from a PLY's comment (see
    /// centre_covariance_comment()); else absent.
    std::optional<Mat3> centre_covariance;
    /// How far its lengths may be off together, share, σ, from a PLY's comment (see scale_sigma_comment());
    /// else absent.
    std::optional<double> scale_sigma;
    std::string bird;  ///< the bird that it is most like, from a PLY's comment (see bird_comment()); else ""
    /// Of each triangle, the share that nobody saw, 0 … 1, from a PLY's face property `unseen`; else empty.
    std::vector<float> unseen;
};

/// Reads PLY, STL (text or binary), OBJ, OFF, glTF and GLB; polygons are split into triangles, vertices at
/// exactly the same place are welded, unused vertices and triangles that name a vertex twice dropped. glTF
/// nodes are placed by their transforms; pictures and materials are left unread.
///
/// \throws InputError (file, line where it has lines, what was found, what to do) if the file cannot be
/// opened, is of an unknown kind,
///         is truncated, claims more than it holds, or has no triangles. Whether the mesh is a solid is
///         check_solid()'s question; coordinates that are not finite pass.
MeshFile read_mesh(const std::filesystem::path& path);

/// The same for bytes in memory, as if they stood in a file of that name: its ending tells the format,
/// messages name it, and files that a glTF names are looked for beside it.
MeshFile read_mesh_bytes(std::string_view bytes, const std::filesystem::path& name);

/// Whether a name's ending is that of a format that read_mesh() reads.
bool is_mesh_name(const std::filesystem::path& path);

/// Writes PLY (binary, double precision), STL (binary, single precision), OBJ or OFF by the name's ending.
/// The file appears whole or not at all.
///
/// \param regions one number a triangle, written as the face property `region`; empty for none. PLY only.
/// \pre regions is empty or has an entry for each triangle
/// \throws InputError if the ending is unknown, if there are regions and the format has no place for them, or
/// if the file cannot
///         be written.
void write_mesh(const std::filesystem::path& path, const TriangleMesh& mesh,
                const std::vector<std::int32_t>& regions = {});

/// The comment by which a PLY tells how far its body's centre of volume may be off: "centre covariance xx xy
/// xz yy yz zz", squares of the file's unit, in the file's axes.
///
/// Every other program passes it over; one that turns or enlarges the body and keeps the comment makes it
/// wrong.
std::string centre_covariance_comment(const Mat3& covariance);

/// The comment by which a PLY tells how far its body's lengths may be off together: "scale sigma 0.004".
std::string scale_sigma_comment(double share);

/// The comment by which a PLY tells which bird a scan is most like: "bird turkey"; or none: "bird none".
std::string bird_comment(std::string_view species);

/// The comment by which a PLY names one of the regions that its face property `region` numbers, 0 … 255:
/// "region 10 cavity wall".
std::string region_comment(std::size_t number, const std::string& name);

/// The bytes of a binary PLY file, double precision, that tells of each triangle which region it belongs to
/// (face property `region`, uchar) and how much of it nobody saw (`unseen`, float), and carries comments in
/// its header.
///
/// \param regions, unseen one number a triangle; empty for none
/// \param comments a line each, without line breaks
/// \pre regions and unseen are empty or have an entry for each triangle
std::string labelled_ply(const TriangleMesh& mesh, const std::vector<std::uint8_t>& regions,
                         const std::vector<std::string>& comments, const std::vector<float>& unseen = {});

}  // namespace evenspit
