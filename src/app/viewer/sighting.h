// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <vector>

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

/// Whether it goes round with the rod.
inline bool turns_with_rod(const Thing& thing) {
    using enum Thing::Kind;
    return thing.kind != surface && thing.kind != motor && thing.kind != support && thing.kind != none;
}

/// Whether hands can move it.
inline bool movable(const Thing& thing) {
    return thing.kind == Thing::Kind::item || thing.kind == Thing::Kind::fork ||
           thing.kind == Thing::Kind::counterweight;
}

/// Whether the eye looks along the rod from the motor's end, so that motor and seat must not hide the load.
bool looks_past_motor(const Vec3& along);

/// What is not drawn: things by themselves; a limb goes with its item, a tine with its fork, and a motor with
/// both supports goes with the rod.
class Hidden {
  public:
    [[nodiscard]] bool has(const Thing& thing) const;
    /// Hides what shows, shows what is hidden.
    void toggle(const Thing& thing);
    void clear() { things_.clear(); }
    [[nodiscard]] bool empty() const { return things_.empty(); }
    bool operator==(const Hidden&) const = default;

  private:
    std::vector<Thing> things_;
};

/// What a line of sight meets first, and where (world). From its own end the motor is looked through.
struct Sighting {
    Thing thing;
    Vec3 at = Vec3::Zero();
};
std::optional<Sighting> sighted(const Assembly& assembly, const Ray& ray, double turn_rad,
                                const Hidden& hidden = {});

}  // namespace evenspit::viewer
