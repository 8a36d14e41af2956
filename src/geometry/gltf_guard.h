// SPDX-License-Identifier: MIT
// Inside of the glTF reader: what must hold before the library may see a file. Not for other rooms.
#pragma once

#include <string>

#include "geometry/mesh_readers.h"

namespace evenspit::mesh_readers {

/// Throws the InputError for a scene that the library would read beyond its end (a chunk of a GLB that is
/// longer than the file) or for which it would need more stack than there is (brackets nested too deep).
void check_gltf_bytes(const Source& source);

/// Whether a name in a scene may lead to a file that is neither in the scene's folder nor below it.
bool leaves_folder(const std::string& name);

}  // namespace evenspit::mesh_readers
