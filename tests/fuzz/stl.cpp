// SPDX-License-Identifier: MIT
#include "reader.h"
#include "targets.h"

void evenspit::fuzz::stl(std::string_view bytes) {
    read_as_mesh(bytes, "a.stl");
    read_as_scan(bytes, "a.stl");
}
