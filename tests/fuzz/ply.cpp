// SPDX-License-Identifier: MIT
#include "reader.h"
#include "targets.h"

void evenspit::fuzz::ply(std::string_view bytes) {
    read_as_mesh(bytes, "a.ply");
    read_as_scan(bytes, "a.ply");
}
