// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewer/camera.h"

namespace evenspit::viewer {

/// A plane that cuts bodies open toward the eye; it stands in the world, and the load turns through it.
struct Section {
    enum class Way {
        across,  ///< the rod
        along    ///< the rod, upright
    };
    Way way = Way::across;
    double at_m = 0;  ///< a station, or how far behind the rod
    bool operator==(const Section&) const = default;

    [[nodiscard]] Vec3 normal() const { return way == Way::across ? Vec3::UnitX() : Vec3::UnitY(); }
};

/// Where a section is if its handle, which was at a place of it, is pulled to where a line of sight comes
/// nearest to the line that the handle runs on. Unchanged where one looks along that line.
double pulled_section(const Section& section, const Vec3& handle, const Ray& ray);

}  // namespace evenspit::viewer
