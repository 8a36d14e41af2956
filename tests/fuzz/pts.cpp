// SPDX-License-Identifier: MIT
#include "reader.h"
#include "targets.h"

void evenspit::fuzz::pts(std::string_view bytes) {
    read_as_scan(bytes, "a.pts");
}
