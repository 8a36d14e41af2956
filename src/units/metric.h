// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "units/quantity.h"

namespace evenspit {

/// A quantity as messages tell it, which are metric whatever the reports are: "5.9 kg".
inline std::string metric(double si, Dimension dimension) {
    return format_quantity(si, dimension, UnitSystem::metric);
}

/// A length as messages tell it.
inline std::string metric_length(double m) {
    return metric(m, Dimension::length);
}

}  // namespace evenspit
