// SPDX-License-Identifier: MIT
#include "reader.h"
#include "targets.h"

void evenspit::fuzz::off(std::string_view bytes) {
    read_as_mesh(bytes, "a.off");
    read_as_scan(bytes, "a.off");
}
