// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>

#include "body/bird_shape.h"
#include "geometry/types.h"

namespace evenspit::body {

inline constexpr double mm = 1e-3;

/// Where things are on a bird of a given form, m at the reference size; limbs on the right side.
struct Landmarks {
    explicit Landmarks(const BirdForm& form) : f(form) {}

    const BirdForm& f;

    [[nodiscard]] Vec3 trunk(double x, double y, double z) const {
        return mm * Vec3(x * f.length, y * f.width, z * f.depth);
    }
    [[nodiscard]] Vec3 breast(double x, double y, double z) const {
        return mm * Vec3(x * f.length, y * f.width, z * f.depth * f.breast);
    }
    [[nodiscard]] double girth(double r) const { return mm * r * std::sqrt(f.width * f.depth); }
    [[nodiscard]] double thigh(double r) const { return mm * r * f.thigh_girth; }
    [[nodiscard]] double drumstick(double r) const { return mm * r * f.drumstick_girth; }
    [[nodiscard]] double wing(double r) const { return mm * r * f.wing_girth; }

    [[nodiscard]] Vec3 hip() const { return trunk(-80, 61, -29); }
    [[nodiscard]] Vec3 knee() const { return hip() + mm * f.leg_length * Vec3(70, 22, 60); }
    [[nodiscard]] Vec3 hock() const {
        const Vec3 from = knee();
        return {from.x() - mm * f.leg_length * 200, mm * 40 * f.width * f.splay,
                from.z() + mm * f.leg_length * 16};
    }
    [[nodiscard]] Vec3 shoulder() const { return trunk(103, 68, -23); }
    [[nodiscard]] Vec3 elbow() const { return shoulder() + mm * f.wing_length * Vec3(-100, 24, -14); }
    [[nodiscard]] Vec3 wrist() const { return elbow() + mm * f.wing_length * Vec3(104, 6, 40); }
    [[nodiscard]] Vec3 wing_tip() const { return wrist() + mm * f.wing_length * Vec3(8, -52, -62); }
};

}  // namespace evenspit::body
