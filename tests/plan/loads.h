// SPDX-License-Identifier: MIT
// Loads for the tests of planning: a rod, a motor, two forks, and bodies that can be reasoned about.
#pragma once

#include <cmath>
#include <functional>
#include <memory>
#include <numbers>
#include <random>
#include <stop_token>
#include <string>
#include <string_view>
#include <utility>

#include "analysis/placed.h"
#include "body/solid_body.h"
#include "load/arrangement.h"
#include "load/assembly.h"
#include "plan/plan.h"
#include "support/degree.h"
#include "support/meshes.h"
#include "units/standard_gravity.h"

namespace evenspit::test {

/// A stout rod, so that it never is what binds.
inline Rod stout_rod() {
    Rod rod;
    rod.section = Section::square;
    rod.width_m = 0.012;
    rod.length_m = 0.9;
    rod.supports_m = {0.02, 0.82};
    rod.usable_m = {0.06, 0.78};
    rod.material = {"steel", 200e9, 250e6, 7850, {}};
    return rod;
}

inline Motor usual_motor() {
    Motor motor;
    motor.kind = MotorKind::dc;
    motor.rated_torque_n_m = 2.5;
    motor.stall_torque_n_m = 5;
    motor.speed_rad_s = 0.3;
    motor.support_friction = 0.15;
    return motor;
}

inline Fork two_tine(double at_m, Facing points, double clock_rad = 0) {
    Fork fork{.at_m = at_m, .points = points, .mass_kg = 0.16, .tines = {}};
    for (const double turn : {0.0, std::numbers::pi}) {
        fork.tines.push_back(
            {.clock_rad = clock_rad + turn, .radius_m = 0.03, .length_m = 0.09, .diameter_m = 0.005});
    }
    return fork;
}

inline body::Body flesh_body(TriangleMesh mesh, double mass_kg, std::string name = "roast") {
    body::SolidBodyOptions options;
    options.name = std::move(name);
    options.mass_kg = mass_kg;
    return body::solid_body(std::move(mesh), options);
}

inline Item item_of(body::Body body, const Seat& seat) {
    Item item;
    item.name = body.name;
    item.bird = body.pointed_ends_known;
    item.body = body::prepare(std::move(body));
    item.seat = seat;
    item.pose = pose_in(item, seat);
    return item;
}

/// One item between two forks whose hubs stand at its ends.
inline Assembly load_of(Item item) {
    Assembly a;
    a.title = "test";
    a.file = "test.toml";
    a.rod = stout_rod();
    a.motor = usual_motor();
    const double at = item.seat.at_m;
    const Box3 box = item.body->bounds;
    a.forks = {two_tine(whole_mm(at + box.min().x() - 0.002), Facing::point),
               two_tine(whole_mm(at + box.max().x() + 0.002), Facing::drive)};
    a.items.push_back(std::move(item));
    return a;
}

/// A roast without a name: a star-shaped body some 280 mm long, lumpy and lopsided.
inline TriangleMesh lumpy_mesh(std::mt19937& random, int n = 32, int m = 24) {
    const auto draw = [&random](double low, double high) {
        return low + (high - low) * (static_cast<double>(random()) / 4294967296.0);
    };
    const double a = draw(0.12, 0.16), b = draw(0.065, 0.085), c = draw(0.065, 0.085);
    struct Lump {
        double u, v, height;
    };
    std::array<Lump, 3> lumps{};
    for (Lump& lump : lumps) lump = {draw(0, 2 * std::numbers::pi), draw(0.25, 0.75), draw(-0.25, 0.45)};
    const Vec3 off(draw(-0.02, 0.02), draw(-0.02, 0.02), draw(-0.02, 0.02));
    return grid_mesh(n, m, [&](double u, double v) {
        double r = 1;
        for (const Lump& lump : lumps) {
            const double du = std::remainder(u - lump.u, 2 * std::numbers::pi), dv = (v - lump.v) * 5;
            r += lump.height * std::exp(-du * du - dv * dv);
        }
        const double t = std::numbers::pi * v;
        return Vec3(off +
                    r * Vec3(-a * std::cos(t), b * std::sin(t) * std::cos(u), c * std::sin(t) * std::sin(u)));
    });
}

/// The mesh as a mirror shows it that stands along x and z; still outward.
inline TriangleMesh mirrored(TriangleMesh mesh) {
    for (Vec3& v : mesh.vertices) v.y() = -v.y();
    for (Triangle& t : mesh.triangles) std::swap(t[1], t[2]);
    return mesh;
}

/// A plan as drawn: in whole millimetres and degrees, and no one mounts it.
inline plan::Plan drawn_plan(const Assembly& load,
                             const std::function<void(double share, std::string_view what)>& stage = {},
                             const std::stop_token& stop = {}) {
    return plan::make_plan(load, stage, stop, {.steps = {}, .mountings = 0});
}

}  // namespace evenspit::test
