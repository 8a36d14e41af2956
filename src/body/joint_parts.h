// SPDX-License-Identifier: MIT
#pragma once

#include <memory>

#include "body/field.h"
#include "body/grown_body.h"
#include "body/lumps.h"
#include "geometry/types.h"

/// What the joints' models are put together with; lengths in millimetres, angles in degrees, as one measures
/// a joint on the table.
namespace evenspit::body::joint_parts {

inline constexpr double mm = 1e-3;

inline Vec3 point_mm(double x, double y, double z) {
    return mm * Vec3(x, y, z);
}
inline RoundCone cone(const Vec3& a, const Vec3& b, double ra_mm, double rb_mm) {
    return {a, b, mm * ra_mm, mm * rb_mm};
}
Mat3 turned(double degrees, const Vec3& axis);

/// A cut across x: what lies beyond it is inside the tool.
Field beyond_x(double x_mm);
Field before_x(double x_mm);
/// A piece of the face that lies across x, outward from the middle: an ellipse in y and z.
Field on_face_x(double x_mm, const Vec3& centre, const Vec3& half);
/// What is inside of both, the edge rounded over `width_mm`.
Field common(Field a, Field b, double width_mm);

/// Flesh, box and regions of a model; bones and cavity are still to come. `box` holds the lumps without their
/// fillets.
BodyModel model_of(const std::shared_ptr<const Lumps>& lumps, const Box3& box);

}  // namespace evenspit::body::joint_parts
