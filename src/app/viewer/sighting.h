// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "app/viewer/camera.h"
#include "scene/colouring.h"
#include "scene/scene.h"

namespace evenspit::viewer {

using scene::Colouring;
using scene::Field;
using scene::Matter;
using scene::Piece;
using scene::Scene;
using scene::SceneMaker;
using scene::ShapeMesh;
using scene::SharedShape;
using scene::turned_rod;

/// Whether hands can move it.
inline bool movable(const Thing& thing) {
    return thing.kind == Thing::Kind::item || thing.kind == Thing::Kind::fork ||
           thing.kind == Thing::Kind::counterweight;
}

/// Whether the eye looks along the rod from the motor's end, so that motor and seat must not hide the load.
bool looks_past_motor(const Vec3& along);

/// What a line of sight meets first, and where (world). From its own end the motor is looked through.
struct Sighting {
    Thing thing;
    Vec3 at = Vec3::Zero();
};
std::optional<Sighting> sighted(const Assembly& assembly, const Ray& ray, double turn_rad);

}  // namespace evenspit::viewer
