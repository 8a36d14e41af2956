// SPDX-License-Identifier: MIT
#pragma once

#include "units/unit_table.h"

namespace evenspit {

/// The temperature that a rule of the USDA names in °F, K.
constexpr double fahrenheit_to_k(double degrees) {
    return (degrees + unit_factors::fahrenheit_zero_shift) / 1.8;
}

}  // namespace evenspit
