// SPDX-License-Identifier: MIT
#include "analysis/figures.h"

#include <algorithm>
#include <utility>

#include "analysis/balance.h"
#include "analysis/figure_findings.h"
#include "analysis/grip.h"
#include "analysis/hold.h"
#include "analysis/knock.h"
#include "analysis/rod_check.h"
#include "analysis/tumbling.h"
#include "analysis/turning.h"
#include "analysis/weigh.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

/// As near as gaps of mountings are told, m.
constexpr double trial_gap_m = 1e-5;

/// All that hangs on what the items weigh at one moment of the cook.
struct Moment {
    Grip grip;
    Beam beam;
    RodResult rod;
    Balance balance;
    Turning turning;
};

/// Stress of the one that is stressed more, sag of the one that sags more.
RodResult worse_rod(RodResult a, const RodResult& b) {
    const RodResult& sags = b.sag_max_m > a.sag_max_m ? b : a;
    RodResult worse = b.yield_use > a.yield_use ? b : a;
    worse.sag_max_m = sags.sag_max_m;
    worse.sag_at_m = sags.sag_at_m;
    worse.sag = sags.sag;
    return worse;
}

/// The rod under one way in which weight may reach it.
struct RodCase {
    Beam beam;
    RodResult rod;
};

RodCase rod_case(const Assembly& assembly, const std::vector<ItemOnRod>& items, const Grip& grip, Carried way,
                 Detail detail) {
    const RodLoading loading = rod_loading(assembly, items, grip, way);
    Beam beam = rod_beam(assembly.rod, loading);
    const double friction =
        friction_torque(assembly.motor, assembly.rod, beam.reactions()) + tumbling_torque_n_m(assembly);
    const double flats = flats_torque(assembly.rod, beam.reactions()).peak_n_m;
    RodResult rod = rod_result(assembly.rod, loading, beam, friction + flats);
    rod.carried = way;
    if (detail == Detail::full) add_curves(rod, assembly.rod, loading, beam);
    return {std::move(beam), std::move(rod)};
}

/// \param items at that end
/// \param grip of these items, weighed
Moment moment_of(const Assembly& assembly, Doneness end, const std::vector<ItemOnRod>& items, Grip grip,
                 Detail detail) {
    RodCase tines = rod_case(assembly, items, grip, Carried::by_tines, detail);
    RodCase lying = rod_case(assembly, items, grip, Carried::on_rod, detail);
    Beam& sags = tines.rod.sag_max_m >= lying.rod.sag_max_m ? tines.beam : lying.beam;
    hold(grip, assembly, items, sags);
    // Supports carry the same either way.
    const double tumbles = tumbling_torque_n_m(assembly);
    // Pieces that tumble hold the rod back just as friction does, whichever way the rest pulls.
    const double friction = friction_torque(assembly.motor, assembly.rod, sags.reactions()) + tumbles;
    Balance sums = balance(turning_masses(assembly, end), assembly.motor, friction,
                           flats_torque(assembly.rod, sags.reactions()));
    sums.tumbling_torque_n_m = tumbles;
    sums.cooked = end == Doneness::cooked;
    if (detail == Detail::full) sums.curve = torque_curve(sums);
    Turning turns = turning(sums, assembly.motor, drive_train(assembly, items));
    return {std::move(grip), std::move(sags), worse_rod(std::move(tines.rod), lying.rod), std::move(sums),
            std::move(turns)};
}

std::optional<double> greater(std::optional<double> a, std::optional<double> b) {
    return a && (!b || *a >= *b) ? a : b;
}

/// Of each use the greater.
Grip worse_grip(Grip a, const Grip& b) {
    for (std::size_t i = 0; i < a.items.size(); ++i) {
        ItemGrip& mine = a.items[i];
        const ItemGrip& other = b.items[i];
        if (other.torque_use.value_or(0) > mine.torque_use.value_or(0)) {
            mine.torque_use = other.torque_use;
            mine.gravity_torque_n_m = other.gravity_torque_n_m;
        }
        mine.weight_use = greater(mine.weight_use, other.weight_use);
        mine.hold_use = greater(mine.hold_use, other.hold_use);
        mine.slide_use = greater(mine.slide_use, other.slide_use);
    }
    for (std::size_t f = 0; f < a.forks.size(); ++f) {
        a.forks[f].clamp_use = greater(a.forks[f].clamp_use, b.forks[f].clamp_use);
        for (std::size_t t = 0; t < a.forks[f].tines.size(); ++t)
            a.forks[f].tines[t].bend_use =
                greater(a.forks[f].tines[t].bend_use, b.forks[f].tines[t].bend_use);
    }
    if (b.torque_use.value_or(0) > a.torque_use.value_or(0)) {
        a.torque_use = b.torque_use;
        a.torque_capacity_n_m = b.torque_capacity_n_m;
    }
    return a;
}

/// Question by question the worse of two moments; which items carry what is the first's.
Moment worse(Moment a, const Moment& b) {
    a.grip = worse_grip(std::move(a.grip), b.grip);
    if (b.rod.sag_max_m > a.rod.sag_max_m) a.beam = b.beam;
    a.rod = worse_rod(std::move(a.rod), b.rod);
    a.turning = worse(std::move(a.turning), b.turning);
    if (b.balance.motor_torque_peak_n_m > a.balance.motor_torque_peak_n_m) a.balance = b.balance;
    return a;
}

/// Whether the load is judged at both ends of a cook: it has one, and is not told to be at some moment of it.
bool is_to_cook(const Assembly& assembly) {
    return assembly.cook && std::none_of(assembly.items.begin(), assembly.items.end(),
                                         [](const Item& item) { return item.matter.has_value(); });
}

}  // namespace

Analysis figures(const Assembly& assembly, const Sweeper& sweeper, Detail detail, const std::stop_token& stop,
                 AnalysisMemory* memory) {
    stop_if_asked(stop);
    std::vector<ItemOnRod> items = items_on_rod(assembly, Doneness::raw);
    Moment moment = moment_of(assembly, Doneness::raw, items, grip(assembly, items, stop, memory), detail);
    stop_if_asked(stop);
    if (is_to_cook(assembly)) {
        items = items_on_rod(assembly, Doneness::cooked);
        Grip cooked_grip = moment.grip;
        weigh(cooked_grip, assembly, items);
        moment = worse(std::move(moment),
                       moment_of(assembly, Doneness::cooked, items, std::move(cooked_grip), detail));
    }
    Analysis a;
    a.grip = std::move(moment.grip);
    a.rod = std::move(moment.rod);
    a.balance = std::move(moment.balance);
    a.turning = std::move(moment.turning);
    stop_if_asked(stop);
    a.clearance = clearance(assembly.cooker, sweeper(assembly), moment.beam,
                            detail == Detail::full ? finest_gap_m : trial_gap_m, stop);
    a.findings = figure_findings(assembly, a);
    return a;
}

std::vector<FigureId> figures_of(const Assembly& assembly) {
    using enum FigureId::Kind;
    std::vector<FigureId> figures;
    for (const FigureId::Kind kind :
         {gravity_torque, motor_torque, motor_use, speed_mean, speed_min, speed_max, irregularity, pull,
          knock, sag, stress, yield_use, grip_torque_use}) {
        figures.push_back({kind});
    }
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        for (const FigureId::Kind kind : {weight_use, hold_use, slide_use}) figures.push_back({kind, i});
    }
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        figures.push_back({clamp_use, f});
        for (std::size_t t = 0; t < assembly.forks[f].tines.size(); ++t) {
            figures.push_back({tine_in_flesh, f, t});
            figures.push_back({tine_cover, f, t});
            figures.push_back({tine_bend_use, f, t});
        }
    }
    if (!assembly.cooker.surfaces.empty()) figures.push_back({gap_min});
    for (std::size_t s = 0; s < assembly.cooker.surfaces.size(); ++s) figures.push_back({gap, s});
    return figures;
}

std::optional<double> value_of(const FigureId& figure, const Analysis& a) {
    using enum FigureId::Kind;
    const auto& [kind, index, part] = figure;
    switch (kind) {
        case gravity_torque:
            return a.balance.gravity_torque_peak_n_m;
        case motor_torque:
            return a.balance.motor_torque_peak_n_m;
        case motor_use:
            return a.balance.motor_use;
        case speed_mean:
            return a.turning.speed_mean_rad_s;
        case speed_min:
            return a.turning.speed_min_rad_s;
        case speed_max:
            return a.turning.speed_max_rad_s;
        case irregularity:
            return a.turning.irregularity;
        case pull:
            return a.turning.pull_n_m;
        case knock:
            return a.turning.knock_n_m;
        case sag:
            return a.rod.sag_max_m;
        case stress:
            return a.rod.stress_max_pa;
        case yield_use:
            return a.rod.yield_use;
        case grip_torque_use:
            return a.grip.torque_use;
        case weight_use:
            return a.grip.items[index].weight_use;
        case hold_use:
            return a.grip.items[index].hold_use;
        case slide_use:
            return a.grip.items[index].slide_use;
        case clamp_use:
            return a.grip.forks[index].clamp_use;
        case tine_bend_use:
            return a.grip.forks[index].tines[part].bend_use;
        case tine_in_flesh:
            return a.grip.forks[index].tines[part].in_flesh_m();
        case tine_cover:
            return a.grip.forks[index].tines[part].cover_min_m;
        case gap_min:
            return a.clearance.gap_min_m;
        case gap:
            if (index < a.clearance.surfaces.size()) return a.clearance.surfaces[index].gap_m;
            return std::nullopt;
    }
    return std::nullopt;
}

}  // namespace evenspit
