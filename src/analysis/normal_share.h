// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>
#include <numbers>

namespace evenspit {

/// Φ: the share of all standard normal deviates below one.
inline double normal_share(double deviate) {
    return std::erfc(-deviate / std::numbers::sqrt2) / 2;
}

}  // namespace evenspit
