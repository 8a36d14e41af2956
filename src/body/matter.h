// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "geometry/mesh.h"

namespace evenspit::body {

/// How flesh differs from place to place, on coarse cubes over a body.
struct FleshField {
    struct Value {
        float strength = 1;   ///< of what its flesh bears, over Matter::bearing_strength_pa
        float retreat_m = 0;  ///< how far the skin that lies nearest has moved in
    };
    Vec3 origin = Vec3::Zero();  ///< corner of the first cube, item frame, m
    double spacing_m = 0;
    std::array<std::size_t, 3> count{};
    std::vector<Value> values;  ///< by x, then y, then z

    /// In the cube where a place lies, or the nearest. \pre some values
    [[nodiscard]] Value at(const Vec3& place) const;
};

/// What changes in a body while it cooks, at one moment: a value beside the body, which stays as it is. A
/// lighter or softer body needs no new search trees.
struct Matter {
    double mass_kg = 0;
    Vec3 centre = Vec3::Zero();                 ///< of mass, item frame, m
    double bearing_strength_pa = 0;             ///< of its flesh under a tine, mean
    std::optional<double> temperature_k{};      ///< mean; absent: not known
    double size = 1;                            ///< cube root of the volume left over the raw one
    std::shared_ptr<const FleshField> flesh{};  ///< null: alike everywhere
};

}  // namespace evenspit::body
