// SPDX-License-Identifier: MIT
// Loads made by hand, for the tests of the analysis.
#pragma once

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <string>
#include <utility>

#include "analysis/analysis.h"
#include "load/assembly.h"
#include "support/degree.h"
#include "support/meshes.h"
#include "units/standard_gravity.h"

namespace evenspit::test {

inline constexpr double rpm = 2 * std::numbers::pi / 60;

/// An 8 mm square rod of cold stainless steel, 760 mm long, carried at 20 and 660 mm.
inline Rod steel_rod() {
    return {.section = Section::square,
            .width_m = 0.008,
            .length_m = 0.760,
            .supports_m = {0.020, 0.660},
            .usable_m = {0.060, 0.620},
            .material = {.name = "stainless steel",
                         .youngs_modulus_pa = 200e9,
                         .yield_strength_pa = 210e6,
                         .density_kg_m3 = 7900,
                         .hot = {}},
            .temperature_k = 293.15};
}

/// The same without weight, so that hand calculations need not carry it.
inline Rod weightless_rod() {
    Rod rod = steel_rod();
    rod.material.density_kg_m3 = 0;
    return rod;
}

inline Motor small_motor() {
    return {.name = "",
            .kind = MotorKind::dc,
            .rated_torque_n_m = 2.5,
            .stall_torque_n_m = 5,
            .speed_rad_s = 3 * rpm,
            .friction_torque_n_m = 0.05,
            .support_friction = 0};
}

/// A balance that pulls so much at its peak, against a little friction.
inline Balance lopsided(double lift_n_m, double heavy_side_rad) {
    Balance balance;
    balance.unbalance_kg_m =
        lift_n_m / standard_gravity * Vec2(std::cos(heavy_side_rad), std::sin(heavy_side_rad));
    balance.gravity_torque_peak_n_m = lift_n_m;
    balance.friction_torque_n_m = 0.05;
    balance.motor_torque_peak_n_m = lift_n_m + 0.05;
    balance.heavy_side_rad = heavy_side_rad;
    return balance;
}

/// A body of one closed mesh and one density.
inline body::Body flesh(TriangleMesh mesh, double density_kg_m3 = 1000) {
    body::Body body;
    body.name = "flesh";
    body.parts.push_back({.name = "flesh",
                          .kind = body::PartKind::flesh,
                          .mesh = std::move(mesh),
                          .density_kg_m3 = density_kg_m3,
                          .parent = -1,
                          .regions = {}});
    return body;
}

/// Adds a part to a body; returns the body.
inline body::Body with_part(body::Body body, body::PartKind kind, TriangleMesh mesh, double density_kg_m3,
                            int parent) {
    body.parts.push_back({.name = "part",
                          .kind = kind,
                          .mesh = std::move(mesh),
                          .density_kg_m3 = density_kg_m3,
                          .parent = parent,
                          .regions = {}});
    return body;
}

/// A body on the rod, its own axes along the rod's, its origin at a station and `offset` (y, z) from the
/// axis.
inline Item item(std::string name, body::Body body, double at_m, const Vec2& offset = Vec2::Zero()) {
    Item result;
    result.name = std::move(name);
    result.body = body::prepare(std::move(body));
    result.seat.at_m = at_m;
    result.pose = Pose(Eigen::Translation3d(at_m, offset.x(), offset.y()));
    return result;
}

/// A fork with two tines opposite each other.
inline Fork two_tines(double at_m, Facing points, double length_m, double radius_m = 0.03,
                      double clock_rad = 0, double mass_kg = 0.16) {
    const Tine tine{.clock_rad = clock_rad, .radius_m = radius_m, .length_m = length_m, .diameter_m = 0.005};
    Tine other = tine;
    other.clock_rad += std::numbers::pi;
    return {.at_m = at_m, .points = points, .mass_kg = mass_kg, .tines = {tine, other}};
}

/// A box of meat, 200 mm long and 100 mm square (2 kg), its middle at 340 mm and on the axis, held by a fork
/// at each end with 60 mm in the meat: everything in order.
inline Assembly good_load() {
    Assembly a;
    a.title = "box";
    a.rod = steel_rod();
    a.motor = small_motor();
    a.items.push_back(item("roast", flesh(box_mesh({-0.1, -0.05, -0.05}, {0.1, 0.05, 0.05})), 0.34));
    a.forks = {two_tines(0.230, Facing::point, 0.070), two_tines(0.450, Facing::drive, 0.070)};
    return a;
}

/// Whether an analysis has a finding of that code that is not ready.
inline bool tells(const Analysis& analysis, Code code) {
    return std::any_of(analysis.findings.begin(), analysis.findings.end(),
                       [code](const Finding& f) { return f.code == code && f.level != Level::ready; });
}

/// A lumpy roast of 200,000 triangles with a bone, off the axis, on two forks in a cooker: for measuring
/// speed.
inline Assembly lumpy_load() {
    const auto lumpy = [](double u, double v) {
        const double t = std::numbers::pi * v, lump = 1 + 0.05 * std::sin(5 * u) * std::sin(7 * t);
        return Vec3(-0.10 * std::cos(t), 0.06 * lump * std::sin(t) * std::cos(u),
                    0.07 * lump * std::sin(t) * std::sin(u));
    };
    Assembly a = good_load();
    body::Body body = flesh(grid_mesh(400, 251, lumpy));
    body = with_part(body, body::PartKind::bone, ellipsoid_mesh(0.06, 0.01, 0.01, {0, 0.01, 0.01}), 1300, 0);
    a.items = {item("roast", body, 0.34, {0.004, -0.006})};
    a.cooker.surfaces = {
        {.name = "coals",
         .shape = BoxShape{{0.1, -0.2, -0.3}, {0.6, 0.2, -0.2}},
         .fire = true,
         .temperature_k = 973.15,
         .keep_m = 0.05},
        {.name = "lid",
         .shape = RevolvedShape{{0.34, 0, 0}, {{0.30, 0}, {0.25, 0.15}, {0.10, 0.25}, {0, 0.26}}},
         .fire = false,
         .temperature_k = {},
         .keep_m = 0.025}};
    return a;
}

}  // namespace evenspit::test
