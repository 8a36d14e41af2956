// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "body/body.h"

namespace evenspit::body {

/// The rim of one of a bird's openings: the edge at which its skin turns in to the cavity, which a finger
/// feels. Item frame, m.
struct OpeningRim {
    std::vector<std::array<Vec3, 2>> edges;

    /// Its lowest and highest place, by z, in the upright plane y = y_m + slope · x; nothing if it does not
    /// reach there.
    [[nodiscard]] std::optional<std::array<Vec3, 2>> at(double y_m, double slope) const;
};

/// The rims at vent and neck (least x first); nothing where the body has no open cavity whose wall is named,
/// or the wall does not end on both sides.
std::optional<std::array<OpeningRim, 2>> opening_rims(const Body& body);

}  // namespace evenspit::body
