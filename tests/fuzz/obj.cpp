// SPDX-License-Identifier: MIT
#include "reader.h"
#include "targets.h"

void evenspit::fuzz::obj(std::string_view bytes) {
    read_as_mesh(bytes, "a.obj");
    read_as_scan(bytes, "a.obj");
}
