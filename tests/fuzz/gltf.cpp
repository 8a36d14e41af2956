// SPDX-License-Identifier: MIT
#include "reader.h"
#include "targets.h"

// GLB too, which its first bytes tell. The scene stands in a folder with one file beside it.
void evenspit::fuzz::gltf(std::string_view bytes) {
    const std::string name = EVENSPIT_SOURCE_DIR "/tests/fuzz/beside/a.gltf";
    read_as_mesh(bytes, name);
    read_as_scan(bytes, name);
}
