// SPDX-License-Identifier: MIT
#include "scan/grid_field.h"

#include <algorithm>
#include <cmath>

namespace evenspit::scan {

GridField::Cell GridField::cell_of(const Vec3& place) const {
    const Vec3 at = (place - origin) / spacing;
    int low[3];
    Vec3 inside;
    for (int k = 0; k < 3; ++k) {
        // The frame of zeros counts: cells reach from node −1 to node n.
        low[k] = std::clamp(int(std::floor(at[k])), -1, n[std::size_t(k)] - 1);
        inside[k] = std::clamp(at[k] - low[k], 0.0, 1.0);
    }
    return {index(low[0], low[1], low[2]), inside};
}

double GridField::interpolated(const Vec3& place) const {
    const auto [first, t] = cell_of(place);
    double sum = 0;
    for (int corner = 0; corner < 8; ++corner) {
        const bool x = corner & 1, y = corner & 2, z = corner & 4;
        const double weight = (x ? t.x() : 1 - t.x()) * (y ? t.y() : 1 - t.y()) * (z ? t.z() : 1 - t.z());
        sum += weight * double(values[first + std::size_t(x + y * row() + z * layer())]);
    }
    return sum;
}

Vec3 GridField::gradient(const Vec3& place) const {
    const auto [first, t] = cell_of(place);
    Vec3 sum = Vec3::Zero();
    for (int corner = 0; corner < 8; ++corner) {
        const bool x = corner & 1, y = corner & 2, z = corner & 4;
        const double wx = x ? t.x() : 1 - t.x(), wy = y ? t.y() : 1 - t.y(), wz = z ? t.z() : 1 - t.z();
        const double value = double(values[first + std::size_t(x + y * row() + z * layer())]);
        sum += value * Vec3((x ? 1 : -1) * wy * wz, (y ? 1 : -1) * wx * wz, (z ? 1 : -1) * wx * wy);
    }
    return sum / spacing;
}

}  // namespace evenspit::scan
