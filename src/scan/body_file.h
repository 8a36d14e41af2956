// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "scan/scanned_body.h"

namespace evenspit::scan {

/// The bytes of BODY.ply: the body in metres, a bird's parts as the face property `region` with their names
/// in comments, and as a comment how far its centre may be off, where that is known
/// (centre_covariance_comment()), for the load that takes it as a scan.
std::string body_ply(const ScannedBody& scanned);

}  // namespace evenspit::scan
