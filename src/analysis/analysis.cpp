// SPDX-License-Identifier: MIT
#include "analysis/analysis.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "analysis/balance.h"
#include "analysis/clearance.h"
#include "analysis/figure_findings.h"
#include "analysis/grip.h"
#include "analysis/place_findings.h"
#include "analysis/placed.h"
#include "analysis/rod_check.h"
#include "analysis/turning.h"
#include "analysis/uncertainty.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

/// All that hangs on what the items weigh at one moment of the cook.
struct Moment {
    Grip grip;
    Beam beam;
    RodResult rod;
    Balance balance;
};

/// \param grip of these items, weighed
Moment moment_of(const Assembly& assembly, const std::vector<PlacedItem>& placed, Grip grip) {
    const RodLoading loading = rod_loading(assembly, placed, grip);
    const Beam beam = rod_beam(assembly.rod, loading);
    const double friction = friction_torque(assembly.motor, assembly.rod, beam.reactions());
    return {std::move(grip), beam, rod_result(assembly.rod, loading, beam, friction),
            balance(turning_masses(assembly, placed), assembly.motor, friction)};
}

/// Of each item the torque at the end where it uses more of its grip.
Grip worse_grip(Grip a, const Grip& b) {
    for (std::size_t i = 0; i < a.items.size(); ++i) {
        if (b.items[i].torque_use.value_or(0) > a.items[i].torque_use.value_or(0)) a.items[i] = b.items[i];
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
    if (b.rod.yield_use > a.rod.yield_use) a.rod = b.rod;
    if (b.beam.largest_sag().value > a.beam.largest_sag().value) a.beam = b.beam;
    if (b.balance.motor_torque_peak_n_m > a.balance.motor_torque_peak_n_m) a.balance = b.balance;
    return a;
}

/// Whether the load is judged at both ends of a cook: it has one, and is not told to be at some moment of it.
bool is_to_cook(const Assembly& assembly) {
    return assembly.cook && std::none_of(assembly.items.begin(), assembly.items.end(),
                                         [](const Item& item) { return item.matter.has_value(); });
}

}  // namespace

Analysis analyse(const Assembly& assembly, const std::stop_token& stop) {
    stop_if_asked(stop);
    std::vector<PlacedItem> placed = place_items(assembly);
    Moment moment = moment_of(assembly, placed, grip(assembly, placed, stop));
    stop_if_asked(stop);
    Analysis a;
    a.findings = place_findings(assembly, placed, moment.grip);
    if (is_to_cook(assembly)) {
        set_matter(placed, assembly, Doneness::cooked);
        Grip cooked_grip = moment.grip;
        weigh(cooked_grip, assembly, placed);
        Moment done = moment_of(assembly, placed, std::move(cooked_grip));
        done.balance.cooked = true;
        moment = worse(std::move(moment), done);
        if (!moment.balance.cooked) set_matter(placed, assembly, Doneness::raw);
    }
    a.grip = std::move(moment.grip);
    a.rod = std::move(moment.rod);
    a.balance = std::move(moment.balance);
    a.turning = turning(a.balance, assembly.motor);
    stop_if_asked(stop);
    a.clearance = clearance(assembly.cooker, swept_load(assembly, placed), moment.beam, stop);
    a.uncertainty = uncertainty(assembly, placed, a.balance);
    stop_if_asked(stop);

    std::vector<Finding> findings = figure_findings(assembly, a);
    for (const auto& more : {a.findings, remark_findings(assembly)})
        std::copy(more.begin(), more.end(), std::back_inserter(findings));
    std::stable_sort(findings.begin(), findings.end(),
                     [](const Finding& x, const Finding& y) { return x.level > y.level; });
    a.findings = std::move(findings);
    if (!a.findings.empty()) a.verdict = a.findings.front().level;
    return a;
}

}  // namespace evenspit
