// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "scan/scanned_body.h"

namespace evenspit::scan {

/// The bytes of BODY.ply: the body in metres, and all that a load takes from a scan, so that the file makes
/// the same body as the scan does. A bird's parts and the wall of its inferred cavity are the face property
/// `region`, with their names in comments; what nobody saw is the face property `unseen`; comments tell which
/// bird it is like, or that it is none, and how far centre and scale may be off, where that is known.
std::string body_ply(const ScannedBody& scanned);

}  // namespace evenspit::scan
