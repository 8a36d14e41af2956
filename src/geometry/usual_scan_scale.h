// SPDX-License-Identifier: MIT
#pragma once

namespace evenspit {

/// How far a scan's lengths are off together, where nothing of known size tells: σ, share; common practice.
inline constexpr double usual_scan_scale = 0.01;

}  // namespace evenspit
