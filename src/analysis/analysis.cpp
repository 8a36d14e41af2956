// SPDX-License-Identifier: MIT
#include "analysis/analysis.h"

#include <algorithm>
#include <iterator>

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

Analysis analyse(const Assembly& assembly, const std::stop_token& stop) {
    stop_if_asked(stop);
    Analysis a;
    const std::vector<PlacedItem> placed = place_items(assembly);
    a.grip = grip(assembly, placed, stop);
    stop_if_asked(stop);

    const RodLoading loading = rod_loading(assembly, placed, a.grip);
    const Beam beam = rod_beam(assembly.rod, loading);
    const double friction = friction_torque(assembly.motor, assembly.rod, beam.reactions());
    a.rod = rod_result(assembly.rod, loading, beam, friction);

    a.balance = balance(turning_masses(assembly, placed), assembly.motor, friction);
    a.turning = turning(a.balance, assembly.motor);
    stop_if_asked(stop);
    a.clearance = clearance(assembly.cooker, swept_load(assembly, placed), beam, stop);
    a.uncertainty = uncertainty(assembly, placed, a.balance);
    stop_if_asked(stop);

    a.findings = figure_findings(assembly, a);
    for (const auto& more : {place_findings(assembly, placed, a.grip), remark_findings(assembly)}) {
        std::copy(more.begin(), more.end(), std::back_inserter(a.findings));
    }
    std::stable_sort(a.findings.begin(), a.findings.end(),
                     [](const Finding& x, const Finding& y) { return x.level > y.level; });
    if (!a.findings.empty()) a.verdict = a.findings.front().level;
    return a;
}

}  // namespace evenspit
