// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "geometry/types.h"

namespace evenspit {

/// Temperatures all through an item and the heat over its skin at one moment, for pictures.
struct HeatCells {
    Vec3 origin = Vec3::Zero();  ///< centre of the first cube, item frame, m
    double spacing_m = 0;        ///< between the cubes' centres
    std::array<std::size_t, 3> count{};
    /// By x, then y, then z. Cubes within two of the body have what it would have if it went on, so that any
    /// place in it lies between cubes that have a temperature; further out there is none: NaN.
    std::vector<float> temperature_k;
    /// Taken up since the load went in, drying counted in; by triangle of the item's first part. NaN along a
    /// hollow.
    std::vector<float> skin_j_m2;

    /// Straight between the cubes round a place of the item; nothing where they have none.
    [[nodiscard]] std::optional<double> at(const Vec3& place) const;
    /// Gives cubes without a temperature the mean of those neighbours that have one, once.
    void grow();
};

}  // namespace evenspit
