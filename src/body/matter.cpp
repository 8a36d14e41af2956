// SPDX-License-Identifier: MIT
#include "body/matter.h"

#include <algorithm>

namespace evenspit::body {

FleshField::Value FleshField::at(const Vec3& place) const {
    std::array<std::size_t, 3> cube{};
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const auto i = static_cast<Eigen::Index>(axis);
        const double along = (place[i] - origin[i]) / spacing_m;
        cube[axis] = static_cast<std::size_t>(std::clamp(along, 0.0, double(count[axis] - 1)));
    }
    return values[(cube[2] * count[1] + cube[1]) * count[0] + cube[0]];
}

}  // namespace evenspit::body
