// SPDX-License-Identifier: MIT
#pragma once

#include <numbers>

namespace evenspit::test {

/// In radians.
inline constexpr double degree = std::numbers::pi / 180;

}  // namespace evenspit::test
