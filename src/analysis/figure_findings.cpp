// SPDX-License-Identifier: MIT
#include "analysis/figure_findings.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "analysis/body_findings.h"
#include "analysis/limits.h"
#include "analysis/placed.h"
#include "units/standard_gravity.h"

namespace evenspit {
namespace {

constexpr Thing the_rod{.kind = Thing::Kind::rod};
constexpr Thing the_motor{.kind = Thing::Kind::motor};

/// Which side of a lone bird the heavy side is; none in between, or where it could be asked: whose?
Side side_of_bird(const Assembly& assembly, double heavy_side_rad) {
    if (assembly.items.size() != 1 || !assembly.items[0].bird) return Side::none;
    const Vec3 heavy = assembly.items[0].pose.linear().transpose() * rod_point(0, 1, heavy_side_rad);
    constexpr double clearly = 0.8;  // common practice: within 37° of the axis
    if (std::abs(heavy.z()) > clearly) return heavy.z() > 0 ? Side::breast : Side::back;
    if (std::abs(heavy.y()) > clearly) return heavy.y() > 0 ? Side::right : Side::left;
    return Side::none;
}

/// What brings the unbalance down to `allowed_kg_m`.
Rebalance rebalance(const Assembly& assembly, const Balance& balance, double allowed_kg_m) {
    Rebalance mend{.heavy_side_rad = balance.heavy_side_rad,
                   .side = side_of_bird(assembly, balance.heavy_side_rad),
                   .line_shift_m = {},
                   .excess_kg_m = balance.unbalance_kg_m_size - allowed_kg_m};
    double items_kg = 0;
    const Doneness end = balance.cooked ? Doneness::cooked : Doneness::raw;
    for (const Item& item : assembly.items) items_kg += matter_at(item, end).mass_kg;
    if (items_kg > 0) mend.line_shift_m = balance.unbalance_kg_m_size / items_kg;
    return mend;
}

void motor_finding(std::vector<Finding>& out, const Assembly& assembly, const Balance& b) {
    const Level level = by_limits(b.motor_use, limits::motor_care, limits::motor_stop);
    MotorFacts facts{.torque_n_m = b.motor_torque_peak_n_m,
                     .rated_n_m = b.rated_torque_n_m,
                     .cooked = b.cooked,
                     .mend = {}};
    const double left_n_m = limits::motor_care * b.rated_torque_n_m - b.friction_torque_n_m;
    if (level != Level::ready && left_n_m > 0)
        facts.mend = rebalance(assembly, b, left_n_m / standard_gravity);
    out.push_back({.level = level,
                   .code = Code::motor_torque,
                   .about = the_motor,
                   .value = b.motor_use,
                   .limit = level == Level::stop ? limits::motor_stop : limits::motor_care,
                   .facts = facts});
}

void turning_findings(std::vector<Finding>& out, const Assembly& assembly, const Analysis& a) {
    const Balance& b = a.balance;
    if (a.turning.stalls) {
        out.push_back({.level = Level::stop,
                       .code = Code::stall,
                       .about = the_motor,
                       .value = b.motor_torque_peak_n_m,
                       .limit = assembly.motor.stall_torque_n_m});
    }
    if (a.turning.overruns) {
        out.push_back(
            {.level = Level::care,
             .code = Code::overrun,
             .about = the_motor,
             .value = b.gravity_torque_peak_n_m,
             .limit = b.friction_torque_n_m,
             .facts = OverrunFacts{a.turning.overrun_share,
                                   rebalance(assembly, b, b.friction_torque_n_m / standard_gravity)}});
    }
    if (a.turning.irregularity && *a.turning.irregularity > limits::uneven_hint) {
        // It is slowest while the heavy side rises: what is then below lies a quarter turn behind that.
        out.push_back({.code = Code::uneven_speed,
                       .about = the_motor,
                       .value = *a.turning.irregularity,
                       .facts = UnevenFacts{b.heavy_side_rad - std::numbers::pi / 2}});
    }
}

void rod_findings(std::vector<Finding>& out, const Assembly& assembly, const RodResult& rod) {
    const Level level = by_limits(rod.yield_use, limits::yield_care, limits::yield_stop);
    out.push_back({.level = level,
                   .code = Code::rod_stress,
                   .about = the_rod,
                   .spot = Spot{Vec3(rod.stress_at_m, 0, 0)},
                   .value = rod.yield_use,
                   .limit = level == Level::stop ? limits::yield_stop : limits::yield_care,
                   .facts = StressFacts{rod.stress_max_pa, assembly.rod.temperature_k}});
    if (rod.sag_max_m > limits::sag_care_m) {
        out.push_back({.level = Level::care,
                       .code = Code::rod_sag,
                       .about = the_rod,
                       .spot = Spot{Vec3(rod.sag_at_m, 0, 0)},
                       .value = rod.sag_max_m,
                       .limit = limits::sag_care_m});
    }
}

void item_grip_findings(std::vector<Finding>& out, const Assembly& assembly, const Grip& grip) {
    for (std::size_t i = 0; i < grip.items.size(); ++i) {
        const ItemGrip& item = grip.items[i];
        const Thing about{Thing::Kind::item, i};
        if (item.forks.empty() || !item.torque_use) {
            out.push_back({.level = Level::stop,
                           .code = item.forks.empty() ? Code::no_fork : Code::no_flesh,
                           .about = about});
            continue;
        }
        const Level level = by_limits(*item.torque_use, limits::grip_care, limits::grip_stop);
        out.push_back({.level = level,
                       .code = Code::grip_torque,
                       .about = about,
                       .value = *item.torque_use,
                       .limit = level == Level::stop ? limits::grip_stop : limits::grip_care,
                       .facts = GripFacts{item.torque_capacity_n_m, item.gravity_torque_n_m,
                                          !assembly.items[i].bearing_strength_pa}});
    }
}

void tine_findings(std::vector<Finding>& out, const Assembly& assembly, const Grip& grip) {
    for (std::size_t f = 0; f < grip.forks.size(); ++f) {
        for (std::size_t t = 0; t < grip.forks[f].tines.size(); ++t) {
            const TineGrip& tine = grip.forks[f].tines[t];
            const Thing about{Thing::Kind::tine, f, t};
            const Spot spot{tine_middle(assembly.forks[f], t)};
            if (tine.in_bone_m > limits::bone_care_m) {
                out.push_back({.level = Level::care,
                               .code = Code::tine_in_bone,
                               .about = about,
                               .spot = spot,
                               .value = tine.in_bone_m,
                               .limit = 0.0});
            }
            if (tine.cover_min_m && *tine.cover_min_m < limits::cover_care_m) {
                out.push_back({.level = Level::care,
                               .code = *tine.cover_min_m > 0 ? Code::tine_cover : Code::tine_out,
                               .about = about,
                               .spot = spot,
                               .value = *tine.cover_min_m,
                               .limit = limits::cover_care_m});
            }
        }
    }
}

void clearance_findings(std::vector<Finding>& out, const Clearance& clearance) {
    for (std::size_t s = 0; s < clearance.surfaces.size(); ++s) {
        const SurfaceGap& surface = clearance.surfaces[s];
        const Level level = surface.gap_m < limits::gap_stop_m ? Level::stop
                            : surface.gap_m < surface.keep_m   ? Level::care
                                                               : Level::ready;
        out.push_back({.level = level,
                       .code = Code::gap,
                       .about = {Thing::Kind::surface, s},
                       .spot = Spot{surface.on_load, false},
                       .value = surface.gap_m,
                       .limit = level == Level::stop ? limits::gap_stop_m : surface.keep_m,
                       .facts = GapFacts{surface.part, surface.fire, surface.at_m}});
    }
}

}  // namespace

std::vector<Finding> figure_findings(const Assembly& assembly, const Analysis& analysis) {
    std::vector<Finding> out;
    motor_finding(out, assembly, analysis.balance);
    turning_findings(out, assembly, analysis);
    item_grip_findings(out, assembly, analysis.grip);
    tine_findings(out, assembly, analysis.grip);
    clearance_findings(out, analysis.clearance);
    if (assembly.cooker.surfaces.empty()) out.push_back({.code = Code::no_cooker});
    rod_findings(out, assembly, analysis.rod);
    for (Finding& finding : body_findings(assembly, analysis.clearance)) out.push_back(std::move(finding));
    return out;
}

std::vector<Finding> remark_findings(const Assembly& assembly) {
    std::vector<Finding> out;
    for (const std::string& remark : assembly.remarks)
        out.push_back({.code = Code::assumption, .facts = Remark{remark}});
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        for (const std::string& remark : assembly.items[i].body->body.remarks) {
            out.push_back(
                {.code = Code::assumption, .about = {Thing::Kind::item, i}, .facts = Remark{remark}});
        }
    }
    return out;
}

}  // namespace evenspit
