// SPDX-License-Identifier: MIT
#include "analysis/figure_findings.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "analysis/body_findings.h"
#include "analysis/grip.h"
#include "analysis/hold_findings.h"
#include "analysis/limits.h"
#include "analysis/placed.h"
#include "analysis/tumbling.h"
#include "units/standard_gravity.h"

namespace evenspit {
namespace {

constexpr Thing the_rod{.kind = Thing::Kind::rod};
constexpr Thing the_motor{.kind = Thing::Kind::motor};
/// Of a figure that never asks for a stop.
constexpr double never = std::numeric_limits<double>::infinity();

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
                     .mend = {},
                     .after_s = b.cooked && assembly.cook ? assembly.cook->cooked_after_s : std::nullopt};
    const double left_n_m = limits::motor_care * b.rated_torque_n_m - b.at_supports_n_m();
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
    const Turning& turns = a.turning;
    if (turns.overruns) {
        const double limit_n_m = limits::pull_care * b.rated_torque_n_m;
        const double allowed_kg_m =
            std::max(0.0, b.friction_torque_n_m - b.flats_torque_peak_n_m + limit_n_m) / standard_gravity;
        out.push_back({.level = by_limits(turns.pull_n_m, limit_n_m, never),
                       .code = Code::overrun,
                       .about = the_motor,
                       .value = turns.pull_n_m,
                       .limit = limit_n_m,
                       .facts = OverrunFacts{turns.overrun_share, b.rated_torque_n_m,
                                             rebalance(assembly, b, allowed_kg_m)}});
    }
    if (turns.knock_n_m) {
        const double limit_n_m = limits::knock_care * b.rated_torque_n_m;
        out.push_back(
            {.level = by_limits(*turns.knock_n_m, limit_n_m, never),
             .code = Code::knock,
             .about = the_motor,
             .value = *turns.knock_n_m,
             .limit = limit_n_m,
             .facts = KnockFacts{turns.play_rad, b.rated_torque_n_m, !assembly.motor.drive_stiffness_n_m_rad,
                                 rebalance(assembly, b, b.friction_torque_n_m / standard_gravity)}});
    }
    if (turns.irregularity && *turns.irregularity > limits::uneven_hint) {
        // It is slowest while the heavy side rises: what is then below lies a quarter turn behind that.
        UnevenFacts facts{.lingers_rad = b.heavy_side_rad - std::numbers::pi / 2, .mend = {}};
        const Level level = by_limits(*turns.irregularity, limits::uneven_care, never);
        // The speed varies by about twice gravity's torque over the stall torque.
        if (level == Level::care)
            facts.mend =
                rebalance(assembly, b, b.unbalance_kg_m_size * limits::uneven_care / *turns.irregularity);
        out.push_back({.level = level,
                       .code = Code::uneven_speed,
                       .about = the_motor,
                       .value = *turns.irregularity,
                       .limit = level == Level::care ? std::optional(limits::uneven_care) : std::nullopt,
                       .facts = facts});
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

/// Of what lies in a basket.
void basket_findings(std::vector<Finding>& out, const ItemGrip& item, const Thing& about) {
    const Thing basket{Thing::Kind::fork, static_cast<std::size_t>(item.forks.back())};
    if (*item.basket_out_m > limits::meat_gives_m) {
        out.push_back({.level = Level::stop,
                       .code = Code::out_of_basket,
                       .about = about,
                       .other = basket,
                       .value = *item.basket_out_m,
                       .limit = limits::meat_gives_m});
        return;
    }
    if (item.basket_play_m.value_or(0) > limits::basket_play_m) {
        out.push_back({.level = Level::care,
                       .code = Code::loose_in_basket,
                       .about = about,
                       .other = basket,
                       .value = *item.basket_play_m,
                       .limit = limits::basket_play_m});
    }
}

/// Of loose pieces.
void contents_findings(std::vector<Finding>& out, const Assembly& assembly) {
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        const Fork& fork = assembly.forks[f];
        if (fork.kind != ForkKind::basket || !(fork.cage.contents_kg > 0)) continue;
        const double fill = tumbling(fork).fill, most = fork.cage.round ? limits::drum_fill : 1;
        if (fill <= most) continue;
        out.push_back({.level = fill > 1 ? Level::stop : Level::care,
                       .code = Code::basket_full,
                       .about = {Thing::Kind::fork, f},
                       .value = fill,
                       .limit = fill > 1 ? 1 : most});
    }
}

void item_grip_findings(std::vector<Finding>& out, const Assembly& assembly, const Grip& grip) {
    for (std::size_t i = 0; i < grip.items.size(); ++i) {
        const ItemGrip& item = grip.items[i];
        const Thing about{Thing::Kind::item, i};
        if (item.basket_out_m) {
            basket_findings(out, item, about);
            continue;
        }
        const GripFacts facts{item.torque_capacity_n_m, item.gravity_torque_n_m,
                              !assembly.items[i].bearing_strength_pa, item.rod_alone};
        const bool held = item.torque_use && *item.torque_use < limits::grip_stop;
        if (item.forks.empty() ? !held : !item.torque_use) {
            out.push_back({.level = Level::stop,
                           .code = item.forks.empty() ? Code::no_fork : Code::no_flesh,
                           .about = about});
            if (item.rod_alone) out.back().facts = facts;
        }
        if (!item.torque_use) continue;
        const Level level = by_limits(*item.torque_use, limits::grip_care, limits::grip_stop);
        out.push_back({.level = level,
                       .code = Code::grip_torque,
                       .about = about,
                       .value = *item.torque_use,
                       .limit = level == Level::stop ? limits::grip_stop : limits::grip_care,
                       .facts = facts});
    }
}

/// Tines of one fork that are wrong in one way: told once, with the worst one's figure.
struct WrongTines {
    std::vector<std::size_t> tines;
    double worst = 0;
    std::size_t worst_tine = 0;

    void add(std::size_t tine, double value, bool worse) {
        if (tines.empty() || worse) {
            worst = value;
            worst_tine = tine;
        }
        tines.push_back(tine);
    }
};

void tine_findings(std::vector<Finding>& out, const Assembly& assembly, const Grip& grip) {
    // Where no fork holds anything that is told of the items.
    const bool any_fork_holds = std::any_of(grip.items.begin(), grip.items.end(),
                                            [](const ItemGrip& item) { return !item.forks.empty(); });
    for (std::size_t f = 0; f < grip.forks.size(); ++f) {
        WrongTines bone, thin, come_out, free;
        for (std::size_t t = 0; t < grip.forks[f].tines.size(); ++t) {
            const TineGrip& tine = grip.forks[f].tines[t];
            if (tine.in_bone_m > limits::bone_care_m)
                bone.add(t, tine.in_bone_m, tine.in_bone_m > bone.worst);
            if (!(tine.in_flesh_m() > 0)) free.add(t, 0, false);
            if (!tine.cover_min_m || *tine.cover_min_m >= limits::cover_care_m) continue;
            WrongTines& skin = *tine.cover_min_m > 0 ? thin : come_out;
            skin.add(t, *tine.cover_min_m, *tine.cover_min_m < skin.worst);
        }
        const auto say = [&](const WrongTines& wrong, Code code, double limit) {
            if (wrong.tines.empty()) return;
            const bool one = wrong.tines.size() == 1;
            out.push_back(
                {.level = Level::care,
                 .code = code,
                 .about = one ? Thing{Thing::Kind::tine, f, wrong.tines[0]} : Thing{Thing::Kind::fork, f},
                 .spot = Spot{tine_middle(assembly.forks[f], wrong.worst_tine)},
                 .value = wrong.worst,
                 .limit = limit,
                 .facts = TineFacts{wrong.tines}});
        };
        say(bone, Code::tine_in_bone, 0);
        say(thin, Code::tine_cover, limits::cover_care_m);
        say(come_out, Code::tine_out, limits::cover_care_m);
        if (free.tines.empty() || !any_fork_holds) continue;
        // One beside the meat does no harm, as long as others hold.
        const bool none_holds = free.tines.size() == grip.forks[f].tines.size();
        out.push_back({.level = none_holds ? Level::care : Level::ready,
                       .code = Code::tine_free,
                       .about = {Thing::Kind::fork, f},
                       .spot = Spot{tine_middle(assembly.forks[f], free.worst_tine)},
                       .facts = TineFacts{free.tines}});
    }
}

/// A bracket clasps the spine: its legs come out of the back, and bone lies between them.
void bracket_findings(std::vector<Finding>& out, const Assembly& assembly, const Grip& grip) {
    for (std::size_t f = 0; f < grip.forks.size(); ++f) {
        const Fork& fork = assembly.forks[f];
        if (fork.kind != ForkKind::bracket) continue;
        WrongTines brief;
        int held = -1;
        for (std::size_t t = 0; t < fork.tines.size(); ++t) {
            const TineGrip& leg = grip.forks[f].tines[t];
            if (leg.item < 0) continue;
            held = leg.item;
            if (leg.stands_out_m < limits::leg_out_m)
                brief.add(t, leg.stands_out_m, leg.stands_out_m < brief.worst);
        }
        if (held < 0) continue;
        if (!brief.tines.empty()) {
            out.push_back({.level = Level::stop,
                           .code = Code::leg_short,
                           .about = {Thing::Kind::fork, f},
                           .spot = Spot{tine_middle(fork, brief.worst_tine)},
                           .value = brief.worst,
                           .limit = limits::leg_out_m,
                           .facts = TineFacts{brief.tines}});
        }
        const Item& item = assembly.items[static_cast<std::size_t>(held)];
        if (bone_between_legs(item, fork).value_or(true)) continue;
        out.push_back({.level = Level::care,
                       .code = Code::leg_off_spine,
                       .about = {Thing::Kind::fork, f},
                       .other = {Thing::Kind::item, static_cast<std::size_t>(held)},
                       .spot = Spot{Vec3(fork.at_m, 0, 0)}});
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
    bracket_findings(out, assembly, analysis.grip);
    contents_findings(out, assembly);
    clearance_findings(out, analysis.clearance);
    if (assembly.cooker.surfaces.empty()) out.push_back({.code = Code::no_cooker});
    rod_findings(out, assembly, analysis.rod);
    for (Finding& finding : hold_findings(assembly, analysis)) out.push_back(std::move(finding));
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
