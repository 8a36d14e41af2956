// SPDX-License-Identifier: MIT
#include "body/joint_parts.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace evenspit::body::joint_parts {

Mat3 turned(double degrees, const Vec3& axis) {
    return Eigen::AngleAxisd(degrees * std::numbers::pi / 180, axis).toRotationMatrix();
}

Field beyond_x(double x_mm) {
    return [x = mm * x_mm](const Vec3& p) { return x - p.x(); };
}
Field before_x(double x_mm) {
    return [x = mm * x_mm](const Vec3& p) { return p.x() - x; };
}

Field on_face_x(double x_mm, const Vec3& centre, const Vec3& half) {
    return [outside = x_mm < 0 ? before_x(x_mm) : beyond_x(x_mm), centre, half](const Vec3& p) {
        const double round = std::hypot((p.y() - centre.y()) / half.y(), (p.z() - centre.z()) / half.z());
        return std::max(outside(p), (round - 1) * std::min(half.y(), half.z()));
    };
}

Field common(Field a, Field b, double width_mm) {
    return [a = std::move(a), b = std::move(b), width = mm * width_mm](const Vec3& p) {
        return carve(a(p), -b(p), width);
    };
}

BodyModel model_of(const std::shared_ptr<const Lumps>& lumps, const Box3& box) {
    BodyModel model;
    model.flesh = [lumps](const Vec3& p) { return lumps->distance(p); };
    // Fillets stand out a little beyond what they join.
    const Vec3 room = point_mm(12, 12, 12);
    model.box = {box.min() - room, box.max() + room};
    model.region_table = named_regions(lumps->region_names());
    model.region_on_surface = [lumps](const Vec3& p) { return lumps->region_on_surface(p); };
    model.layers = [lumps](const Vec3& p, double full) { return lumps->layers(p, full); };
    return model;
}

}  // namespace evenspit::body::joint_parts
