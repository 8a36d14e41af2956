// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "load/thing.h"
#include "report/chance_words.h"
#include "report/finding_words.h"
#include "report/json_parts.h"
#include "report/report.h"
#include "units/tell.h"

namespace evenspit {
namespace {

using ::evenspit::put;

// A vector or matrix with a hole in it is left out whole: its readers count on its shape.
template <typename Derived>
void put(Json& object, std::string_view key, const Eigen::MatrixBase<Derived>& matrix) {
    if (!matrix.allFinite()) return;
    Json rows = Json::array();
    for (Eigen::Index i = 0; i < matrix.rows(); ++i) {
        if constexpr (Derived::ColsAtCompileTime == 1) {
            rows.push_back(matrix(i) + 0.0);
        } else {
            Json row = Json::array();
            for (Eigen::Index j = 0; j < matrix.cols(); ++j) row.push_back(matrix(i, j) + 0.0);
            rows.push_back(std::move(row));
        }
    }
    object[std::string(key)] = std::move(rows);
}

// Points that could not be computed are left out of a curve; a curve without points is left out.
void put(Json& object, std::string_view key, const std::vector<std::array<double, 2>>& curve) {
    Json points = Json::array();
    for (const auto& [x, y] : curve) {
        if (std::isfinite(x) && std::isfinite(y)) points.push_back({x + 0.0, y + 0.0});
    }
    if (!points.empty()) object[std::string(key)] = std::move(points);
}

std::string_view mass_model_name(body::MassModel model) {
    return model == body::MassModel::scale_weight ? "scale_weight" : "density_and_volume";
}

std::string item_name(const Assembly& assembly, int index) {
    const auto i = static_cast<std::size_t>(index);
    return index >= 0 && i < assembly.items.size() ? assembly.items[i].name : std::string();
}

Json about_json(const Thing& thing, const Assembly& assembly) {
    Json json = Json::object();
    switch (thing.kind) {
        case Thing::Kind::item:
        case Thing::Kind::limb:
            json["item"] = thing.index + 1;
            break;
        case Thing::Kind::fork:
            put_fork(json, assembly.forks, thing.index);
            break;
        case Thing::Kind::tine:
            put_fork(json, assembly.forks, thing.index);
            json[std::string(tine_word(assembly.forks, thing.index))] = thing.part + 1;
            break;
        case Thing::Kind::counterweight:
            json["counterweight"] = thing.index + 1;
            break;
        case Thing::Kind::surface:
            json["surface"] = thing_name(thing, assembly);
            break;
        case Thing::Kind::rod:
        case Thing::Kind::motor:
        case Thing::Kind::support:
        case Thing::Kind::none:
            break;
    }
    return json;
}

Json item_json(const Item& item) {
    const body::PreparedBody& body = *item.body;
    Json json;
    json["name"] = item.name;
    put(json, "mass_kg", body.mass.amount);
    put(json, "volume_m3", body.volume_m3);
    put(json, "density_kg_m3", body.mass.amount / body.volume_m3);
    put(json, "centre_of_mass_m", body.mass.centre);
    put(json, "inertia_kg_m2", body.mass.inertia());
    json["mass_model"] = mass_model_name(body.body.mass_model);
    return json;
}

Json balance_json(const Balance& balance, const Motor& motor) {
    Json json;
    put(json, "mass_kg", balance.mass_kg);
    put(json, "centre_x_m", balance.centre_x_m);
    put(json, "unbalance_kg_m", balance.unbalance_kg_m);
    put(json, "unbalance_size_kg_m", balance.unbalance_kg_m_size);
    // Without unbalance there is no heavy side, and 0° would be a direction like any other.
    if (balance.unbalance_kg_m_size > 0) put(json, "heavy_side_deg", turn_degrees(balance.heavy_side_rad));
    put(json, "couple_kg_m2", balance.couple_kg_m2);
    put(json, "gravity_torque_peak_n_m", balance.gravity_torque_peak_n_m);
    put(json, "friction_torque_n_m", balance.friction_torque_n_m);
    if (balance.tumbling_torque_n_m > 0) put(json, "tumbling_torque_n_m", balance.tumbling_torque_n_m);
    if (balance.flats > 0) put(json, "flats_torque_n_m", balance.flats_torque_peak_n_m);
    put(json, "motor_torque_peak_n_m", balance.motor_torque_peak_n_m);
    put(json, "rated_torque_n_m", balance.rated_torque_n_m);
    // What is told above is one of so many shares.
    if (motor.rods > 1) json["rods_on_motor"] = motor.rods;
    put(json, "motor_use", balance.motor_use);
    json["cooked"] = balance.cooked;
    put(json, "centrifugal_over_weight", balance.centrifugal_over_weight);
    put(json, "curve", balance.curve);
    return json;
}

Json turning_json(const Turning& turning) {
    Json json;
    put(json, "speed_mean_rad_s", turning.speed_mean_rad_s);
    put(json, "speed_min_rad_s", turning.speed_min_rad_s);
    put(json, "speed_max_rad_s", turning.speed_max_rad_s);
    put(json, "irregularity", turning.irregularity);
    json["stalls"] = turning.stalls;
    json["overruns"] = turning.overruns;
    put(json, "overrun_share", turning.overrun_share);
    put(json, "pull_n_m", turning.pull_n_m);
    put(json, "play_deg", turning.play_rad * 180 / std::numbers::pi);
    put(json, "knock_n_m", turning.knock_n_m);
    return json;
}

Json rod_json(const RodResult& rod) {
    Json json;
    put(json, "reactions_n", Vec2(rod.reactions_n[0], rod.reactions_n[1]));
    json["carried"] = rod.carried == Carried::by_tines ? "by tines" : "on rod";
    put(json, "sag_max_m", rod.sag_max_m);
    put(json, "sag_at_m", rod.sag_at_m);
    put(json, "stress_max_pa", rod.stress_max_pa);
    put(json, "stress_at_m", rod.stress_at_m);
    put(json, "yield_use", rod.yield_use);
    put(json, "youngs_modulus_pa", rod.youngs_modulus_pa);
    put(json, "yield_strength_pa", rod.yield_strength_pa);
    put(json, "sag_curve_m", rod.sag);
    put(json, "moment_curve_n_m", rod.moment);
    return json;
}

Json tine_json(const Assembly& assembly, const TineGrip& tine) {
    Json json;
    if (const std::string name = item_name(assembly, tine.item); !name.empty()) json["item"] = name;
    put(json, "embedded_m", tine.embedded_m);
    put(json, "in_flesh_m", tine.in_flesh_m());
    put(json, "in_bone_m", tine.in_bone_m);
    put(json, "in_cavity_m", tine.in_cavity_m);
    put(json, "cover_min_m", tine.cover_min_m);
    put(json, "bend_use", tine.bend_use);
    return json;
}

Json fork_json(const Assembly& assembly, const ForkGrip& fork, ForkKind kind) {
    Json json;
    if (kind == ForkKind::bracket) json["kind"] = "bracket";
    if (kind == ForkKind::basket) json["kind"] = "basket";
    put(json, "at_m", fork.at_m);
    json["tines"] = Json::array();
    for (const TineGrip& tine : fork.tines) json["tines"].push_back(tine_json(assembly, tine));
    put(json, "weight_share", fork.weight_share);
    put(json, "torque_capacity_n_m", fork.torque_capacity_n_m);
    put(json, "torque_capacity_raw_n_m", fork.torque_capacity_raw_n_m);
    put(json, "clamp_use", fork.clamp_use);
    return json;
}

Json grip_json(const Assembly& assembly, const Grip& grip) {
    Json json = Json::object();
    put(json, "torque_capacity_n_m", grip.torque_capacity_n_m);
    put(json, "torque_use", grip.torque_use);
    json["items"] = Json::array();
    for (std::size_t i = 0; i < grip.items.size(); ++i) {
        const ItemGrip& item = grip.items[i];
        Json entry;
        entry["name"] = item_name(assembly, static_cast<int>(i));
        entry["forks"] = item.forks;
        if (item.rod_alone) entry["rod_alone"] = true;
        put(entry, "gravity_torque_n_m", item.gravity_torque_n_m);
        put(entry, "torque_capacity_n_m", item.torque_capacity_n_m);
        put(entry, "torque_capacity_raw_n_m", item.torque_capacity_raw_n_m);
        put(entry, "torque_use", item.torque_use);
        put(entry, "weight_use", item.weight_use);
        put(entry, "hold_use", item.hold_use);
        put(entry, "slide_use", item.slide_use);
        json["items"].push_back(std::move(entry));
    }
    return json;
}

Json clearance_json(const Assembly& assembly, const Clearance& clearance) {
    Json json = Json::object();
    put(json, "gap_min_m", clearance.gap_min_m);
    json["surfaces"] = Json::array();
    for (const SurfaceGap& surface : clearance.surfaces) {
        Json entry;
        entry["name"] = surface.name;
        put(entry, "gap_m", surface.gap_m);
        put(entry, "keep_m", surface.keep_m);
        put(entry, "at_m", surface.at_m);
        entry["part"] = thing_name(surface.part, assembly);
        entry["fire"] = surface.fire;
        put(entry, "on_load_m", surface.on_load);
        put(entry, "on_surface_m", surface.on_surface);
        json["surfaces"].push_back(std::move(entry));
    }
    put(json, "profile", clearance.profile);
    return json;
}

Json uncertainty_json(const Uncertainty& uncertainty) {
    Json json;
    put(json, "gravity_torque_p95_n_m", uncertainty.gravity_torque_p95_n_m);
    put(json, "stall_probability", uncertainty.stall_probability);
    json["samples"] = uncertainty.samples;
    put(json, "gravity_torque_p95_seen_n_m", uncertainty.gravity_torque_p95_seen_n_m);
    return json;
}

Json band_json(const Band& band) {
    Json points = Json::array();
    for (const auto& [x, low, high] : band) points.push_back({x + 0.0, low + 0.0, high + 0.0});
    return points;
}

}  // namespace

void put_fork(Json& object, const std::vector<Fork>& forks, std::size_t index) {
    const ForkSection section = fork_section(forks, index);
    object[std::string(section.name)] = section.number;
}

void put_mounted(Json& json, const Mounted& mounted, const Assembly& assembly) {
    json["chance"] = chance_json(mounted.chance);
    json["spread"] = Json::array();
    for (const FigureSpread& figure : mounted.spread) {
        Json entry;
        entry["figure"] = figure_key(figure.figure);
        put(entry, "p5", figure.p5);
        put(entry, "p50", figure.p50);
        put(entry, "p95", figure.p95);
        json["spread"].push_back(std::move(entry));
    }
    json["drivers"] = Json::array();
    for (const Driver& driver : mounted.drivers)
        json["drivers"].push_back({{"input", input_key(driver.input, assembly)}, {"share", driver.share}});
    json["bands"] = {{"torque", band_json(mounted.torque)}, {"profile", band_json(mounted.profile)}};
}

Json finding_json(const Finding& finding, const Assembly& assembly) {
    Json json;
    json["level"] = level_name(finding.level);
    json["code"] = code_name(finding.code);
    json["topic"] = topic_of(finding.code);
    json["message"] = finding_text(finding, assembly, UnitSystem::metric);
    if (Json about = about_json(finding.about, assembly); !about.empty()) json["about"] = std::move(about);
    if (Json other = about_json(finding.other, assembly); !other.empty()) json["with"] = std::move(other);
    put(json, "value", finding.value);
    put(json, "limit", finding.limit);
    put(json, "chance", finding.chance);
    if (!finding.as_written) json["as_written"] = false;
    if (is_seen_by_hand(finding.code)) json["seen_by_hand"] = true;
    if (json.contains("value") || json.contains("limit")) json["unit"] = unit_of(finding.code);
    return json;
}

Json report_json(const Assembly& assembly, const Analysis& analysis) {
    Json json;
    json["tool"] = tool_json();
    json["load"] = load_json(assembly);
    json["verdict"] = level_name(analysis.verdict);
    if (analysis.mounted) put_mounted(json, *analysis.mounted, assembly);
    json["findings"] = Json::array();
    for (const Finding& finding : analysis.findings)
        json["findings"].push_back(finding_json(finding, assembly));
    json["items"] = Json::array();
    for (const Item& item : assembly.items) json["items"].push_back(item_json(item));
    json["balance"] = balance_json(analysis.balance, assembly.motor);
    json["turning"] = turning_json(analysis.turning);
    json["rod"] = rod_json(analysis.rod);
    json["forks"] = Json::array();
    for (std::size_t f = 0; f < analysis.grip.forks.size(); ++f)
        json["forks"].push_back(fork_json(assembly, analysis.grip.forks[f], assembly.forks[f].kind));
    json["grip"] = grip_json(assembly, analysis.grip);
    json["clearance"] = clearance_json(assembly, analysis.clearance);
    if (analysis.uncertainty) json["uncertainty"] = uncertainty_json(*analysis.uncertainty);
    return json;
}

std::string json_report(const Assembly& assembly, const Analysis& analysis) {
    return json_text(report_json(assembly, analysis));
}

}  // namespace evenspit
