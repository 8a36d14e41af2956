// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "body/body.h"

namespace evenspit::body {

/// A body as the bytes of a PLY file, metres, item frame: the closed skin, as a faultless scan would show it,
/// and the walls of closed hollows turned inward, so that the mesh bounds the flesh. Bones and contents are
/// not in it.
///
/// The face property `region` (uchar) numbers the parts of the skin; comments in the header name them
/// ("region 0 breast") and the body.
std::string skin_ply(const Body& body);

}  // namespace evenspit::body
