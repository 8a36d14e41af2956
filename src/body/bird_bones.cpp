// SPDX-License-Identifier: MIT
#include <cmath>
#include <cstdint>
#include <numbers>
#include <utility>

#include "body/bird_landmarks.h"
#include "body/bird_shape.h"
#include "body/tube.h"

namespace evenspit::body {
namespace {

// Sizes of bones are from memory of carved birds, at the reference turkey's size. What the published parts
// count as bone holds gristle and sinew too, and is about half as much again.

constexpr std::uint8_t number(BirdRegion region) {
    return static_cast<std::uint8_t>(region);
}

// The cage of ribs on the right: a shell along the cavity's wall, of the ribs' volume and not of their
// number.
TriangleMesh rib_cage(const BirdShape& shape, const BoneSetter& setter, const Landmarks& m) {
    constexpr double thickness = 6 * mm;
    constexpr double degree = std::numbers::pi / 180;
    const ShellOptions options{.from_x = m.trunk(-50, 0, 0).x(),
                               .to_x = m.trunk(97, 0, 0).x(),
                               .from_angle = -48 * degree,
                               .to_angle = 36 * degree};
    return shell_mesh(options, [&](const Vec3& on_axis, const Vec3& outward) {
        const double inner = shape.wall_radius(on_axis, outward, 1.2 * BoneSetter::least_cover);
        return std::pair{inner, inner + setter.room(on_axis + inner * outward, outward, thickness)};
    });
}

}  // namespace

std::vector<Bone> bird_bones(const BirdShape& shape) {
    const Field flesh = [&shape](const Vec3& p) { return shape.flesh(p); };
    BoneSetter setter(flesh);
    const Landmarks m(shape.form());
    const auto breast = number(BirdRegion::breast), back = number(BirdRegion::back);

    // The sternum's plate roofs the cavity; the keel stands on it, an upright blade between the breast lobes.
    const Vec3 up = Vec3::UnitZ();
    const double plate_half = m.girth(4), keel_half = m.girth(15) * shape.form().breast;
    const Vec3 rear = m.breast(-46, 0, 0), front = m.breast(92, 0, 0);
    const double roof = shape.wall_radius(0.5 * (rear + front), up, 0);
    const Vec3 plate = (roof + BoneSetter::least_cover + plate_half + m.girth(1)) * up;
    const Vec3 blade = plate + (plate_half + m.girth(2.5) + keel_half) * up;
    setter.lay("sternum", breast, rear + plate, front + plate, {.high = plate_half, .wide = m.girth(36)});
    setter.lay("keel", breast, rear + blade - m.breast(21, 0, 0), front + blade + m.breast(10, 0, 2),
               {.high = keel_half, .wide = m.girth(5)});

    // The spine runs in the middle of the wall between cavity and back.
    const Vec3 tail_end = m.trunk(-136, 0, 0), neck_end = m.trunk(132, 0, 0);
    const Vec3 middle = 0.5 * (tail_end + neck_end);
    const Vec3 below = -0.5 * (shape.wall_radius(middle, -up, 0) + shape.skin_radius(middle, -up)) * up;
    setter.lay("spine", back, tail_end + below, neck_end + below + m.trunk(0, 0, 6),
               {.high = m.girth(13), .wide = m.girth(15)});

    for (const Side side : {Side::right, Side::left}) {
        const auto s = static_cast<std::size_t>(side);
        const std::string own = side == Side::right ? "right " : "left ";
        const auto region = [s](BirdRegion right) { return static_cast<std::uint8_t>(number(right) + s); };
        setter.mirror(side == Side::left);
        setter.lay(own + "pelvis", back, m.trunk(-134, 37, -55), m.trunk(-15, 42, -68),
                   {.high = m.girth(9), .wide = m.girth(22)});
        setter.lay_mesh(own + "ribs", back, rib_cage(shape, setter, m));
        if (shape.limbs().thigh[s]) {
            const Vec3 along = m.knee() - m.hip();
            const double r = m.thigh(10);
            setter.lay(own + "femur", region(BirdRegion::right_thigh), m.hip() + 0.02 * along,
                       m.knee() - 0.14 * along, {.high = r, .wide = r, .knob = 1.5, .taper = 0.08});
        }
        if (shape.limbs().drumstick[s]) {
            const Vec3 along = m.hock() - m.knee();
            const double r = m.drumstick(10);
            setter.lay(own + "tibia", region(BirdRegion::right_drumstick), m.knee() + 0.08 * along,
                       m.hock() + 0.04 * along, {.high = r, .wide = r, .knob = 1.6, .taper = 0.08});
        }
        if (shape.limbs().wing[s]) {
            const Vec3 upper = m.elbow() - m.shoulder(), fore = m.wrist() - m.elbow();
            const double r = m.wing(9);
            setter.lay(own + "humerus", region(BirdRegion::right_wing), m.shoulder() + 0.02 * upper,
                       m.elbow() - 0.05 * upper, {.high = r, .wide = r, .knob = 1.5, .taper = 0.08});
            const double thin = m.wing(8);
            setter.lay(own + "radius and ulna", region(BirdRegion::right_wing), m.elbow() + 0.1 * fore,
                       m.wrist() - 0.03 * fore, {.high = thin, .wide = thin, .knob = 1.3, .taper = 0.08});
        }
    }
    return setter.take();
}

}  // namespace evenspit::body
