// SPDX-License-Identifier: MIT
#pragma once

namespace evenspit {

/// Standard gravity, m/s² (CGPM 1901).
inline constexpr double standard_gravity = 9.80665;

}  // namespace evenspit
