// SPDX-License-Identifier: MIT
// Inside of read_mesh() and read_scan_file(): which formats there are. Not for other rooms.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>

#include "geometry/mesh_readers.h"

namespace evenspit::mesh_readers {

/// What a file is read as.
enum class Purpose {
    mesh,  ///< triangles
    scan,  ///< triangles, or points alone
};

/// Whether a name's ending is that of a format read for this purpose; upper and lower case are the same.
bool has_format(const std::filesystem::path& path, Purpose purpose);

/// Makes of what was read what the caller wants; `metres_per_unit` is set for formats that define their unit.
using Use = std::function<void(const Source& source, Soup soup, std::optional<double> metres_per_unit)>;

/// Reads a file's bytes by the format that its name's ending tells.
///
/// \throws InputError for a file that is of an unknown kind or empty, breaks its format, or does not fit in
/// memory, whether while it is read or used
void read_formatted(const Source& source, Purpose purpose, const Use& use);

/// The same for a file on the disk.
///
/// \throws InputError also if it cannot be opened
void read_formatted(const std::filesystem::path& path, Purpose purpose, const Use& use);

}  // namespace evenspit::mesh_readers
