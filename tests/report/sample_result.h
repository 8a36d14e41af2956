// SPDX-License-Identifier: MIT
// A load and its analysis with every figure written by hand, for tests of what is printed. The figures are
// invented; they do not come from a computation and need not agree with each other.
#pragma once

#include <cmath>
#include <memory>
#include <numbers>

#include "analysis/analysis.h"

namespace evenspit::test {

inline Item sample_item() {
    auto body = std::make_shared<body::PreparedBody>();
    body->body.name = "goose";
    body->body.mass_model = body::MassModel::scale_weight;
    body->mass.amount = 4.6;
    body->mass.centre = Vec3(0.0125, 0.0, -0.004);
    body->mass.second = Vec3(0.06, 0.02, 0.015).asDiagonal();
    body->volume_m3 = 0.004;
    Item item;
    item.name = "goose";
    item.body = body;
    item.seat.at_m = 0.34;
    return item;
}

inline Assembly sample_assembly() {
    Assembly assembly;
    assembly.title = "Goose for the rowing club supper";
    assembly.file = "goose.toml";
    assembly.items.push_back(sample_item());
    assembly.forks.resize(2);
    for (const char* name : {"coal bed", "dome", "drip tray"})
        assembly.cooker.surfaces.push_back(
            {.name = name, .shape = PlaneShape{}, .fire = false, .temperature_k = {}, .keep_m = 0.025});
    return assembly;
}

inline Balance sample_balance() {
    Balance balance;
    balance.mass_kg = 5.5;
    balance.centre_x_m = 0.345;
    balance.unbalance_kg_m = Vec2(0.03, -0.04);
    balance.unbalance_kg_m_size = 0.05;
    balance.heavy_side_rad = 2 * std::numbers::pi - std::atan2(4, 3);
    balance.couple_kg_m2 = Vec2(0.001, 0.002);
    balance.gravity_torque_peak_n_m = 0.49;
    balance.friction_torque_n_m = 0.06;
    balance.motor_torque_peak_n_m = 0.55;
    balance.rated_torque_n_m = 2.5;
    balance.motor_use = 0.22;
    balance.centrifugal_over_weight = 9.1e-5;
    for (int deg = 0; deg < 360; ++deg) {
        const double torque = 0.06 + 0.49 * std::cos(balance.heavy_side_rad + deg * std::numbers::pi / 180);
        balance.curve.push_back({static_cast<double>(deg), torque});
    }
    return balance;
}

inline Turning sample_turning() {
    Turning turning;
    turning.overruns = true;
    turning.overrun_share = 0.4;
    turning.pull_n_m = 0.43;
    turning.speed_mean_rad_s = 0.3;
    turning.speed_min_rad_s = 0.28;
    turning.speed_max_rad_s = 0.32;
    turning.irregularity = 0.1333;
    return turning;
}

inline RodResult sample_rod() {
    RodResult rod;
    rod.reactions_n = {28, 25};
    rod.sag_max_m = 0.0021;
    rod.sag_at_m = 0.335;
    rod.stress_max_pa = 72e6;
    rod.stress_at_m = 0.41;
    rod.yield_use = 0.36;
    rod.youngs_modulus_pa = 190e9;
    rod.yield_strength_pa = 200e6;
    rod.sag = {{0.02, 0}, {0.335, 0.0021}, {0.66, 0}};
    rod.moment = {{0.02, 0}, {0.34, 6.5}, {0.66, 0}};
    return rod;
}

inline Grip sample_grip() {
    Grip grip;
    grip.forks.resize(2);
    grip.forks[0].at_m = 0.19;
    grip.forks[0].tines = {
        {.item = 0, .embedded_m = 0.09, .in_bone_m = 0.005, .in_cavity_m = 0.01, .cover_min_m = 0.015},
        {.item = 0, .embedded_m = 0.085, .in_bone_m = 0, .in_cavity_m = 0.005, .cover_min_m = 0.011}};
    grip.forks[0].weight_share = 0.55;
    grip.forks[0].torque_capacity_n_m = 0.9;
    grip.forks[0].torque_capacity_raw_n_m = 1.8;
    grip.forks[1].at_m = 0.5;
    grip.forks[1].tines = {TineGrip()};
    ItemGrip item;
    item.forks = {0};
    item.gravity_torque_n_m = 0.45;
    item.torque_capacity_n_m = 0.9;
    item.torque_capacity_raw_n_m = 1.8;
    item.torque_use = 0.5;
    grip.items = {item};
    grip.torque_capacity_n_m = 0.9;
    grip.torque_use = 0.5;
    return grip;
}

inline Clearance sample_clearance() {
    Clearance clearance;
    clearance.gap_min_m = -0.006;
    clearance.surfaces.push_back({"coal bed",
                                  0.041,
                                  0.05,
                                  0.36,
                                  {Thing::Kind::item, 0},
                                  Vec3(0.36, 0, -0.12),
                                  Vec3(0.36, 0, -0.161),
                                  true});
    clearance.surfaces.push_back(
        {"dome", 0.1, 0.025, 0.3, {Thing::Kind::item, 0}, Vec3(0.3, 0, 0.12), Vec3(0.3, 0, 0.22), false});
    clearance.surfaces.push_back({"drip tray",
                                  -0.006,
                                  0.025,
                                  0.5,
                                  {Thing::Kind::fork, 1},
                                  Vec3(0.5, 0, -0.1),
                                  Vec3(0.5, 0, -0.094),
                                  false});
    clearance.profile = {{0.2, 0.03}, {0.34, 0.12}, {0.5, 0.04}};
    return clearance;
}

inline Analysis sample_analysis() {
    Analysis analysis;
    analysis.verdict = Level::stop;
    analysis.findings = {
        {.level = Level::stop,
         .code = Code::gap,
         .about = {Thing::Kind::surface, 2},
         .value = -0.006,
         .limit = 0.0,
         .facts = GapFacts{{Thing::Kind::fork, 1}, false, 0.5}},
        {.level = Level::care,
         .code = Code::overrun,
         .about = {Thing::Kind::motor},
         .value = 1.25,
         .limit = 0.625,
         .facts = OverrunFacts{0.4, 2.5, {.heavy_side_rad = 0, .line_shift_m = {}, .excess_kg_m = 0.04}}},
        {.code = Code::rod_stress,
         .about = {Thing::Kind::rod},
         .spot = Spot{Vec3(0.41, 0, 0)},
         .value = 0.36,
         .limit = 0.5,
         .facts = StressFacts{72e6, 293.15}},
        {.code = Code::uneven_speed, .value = 0.1333, .facts = UnevenFacts{std::numbers::pi, {}}},
        {.code = Code::assumption,
         .about = {Thing::Kind::item, 0},
         .facts = Remark{"The bones are placed by the species' proportions."}},
    };
    analysis.balance = sample_balance();
    analysis.turning = sample_turning();
    analysis.rod = sample_rod();
    analysis.grip = sample_grip();
    analysis.clearance = sample_clearance();
    return analysis;
}

}  // namespace evenspit::test
