// SPDX-License-Identifier: MIT
#pragma once

#include "scan/library/scan_library_api.h"

namespace evenspit::scan {

/// The functions of libevenspit_scan_library.so, in which Open3D does its part of a scan.
///
/// The module is opened at the first call and stays open. It is looked for where the program was told at its
/// making (in a build tree where it was built; else as seen from the program's own place in an installed
/// prefix), then where the system keeps libraries.
///
/// \throws InputError that tells what is missing and how to mend it
const library::Functions& scan_library();

}  // namespace evenspit::scan
