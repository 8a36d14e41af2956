// SPDX-License-Identifier: MIT
#include "app/viewer/section.h"

#include <cmath>

namespace evenspit::viewer {

double pulled_section(const Section& section, const Vec3& handle, const Ray& ray) {
    // The nearest places of two lines: handle + s·normal and ray.from + t·along, both directions of unit
    // length.
    const Vec3 normal = section.normal();
    const double cosine = normal.dot(ray.along), sine2 = 1 - cosine * cosine;
    constexpr double nearly_along = 1e-3;
    if (sine2 < nearly_along) return section.at_m;
    const Vec3 between = ray.from - handle;
    return section.at_m + (between.dot(normal) - cosine * between.dot(ray.along)) / sine2;
}

}  // namespace evenspit::viewer
