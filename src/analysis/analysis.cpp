// SPDX-License-Identifier: MIT
#include "analysis/analysis.h"

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

#include "analysis/analysis_memory.h"
#include "analysis/figure_findings.h"
#include "analysis/figures.h"
#include "analysis/place_findings.h"
#include "analysis/placed.h"
#include "analysis/roll_belief.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

/// A test that counts is told; one that contradicts the load asks for care.
Finding roll_finding(const RollFound& found) {
    const bool odd = !found.folded || found.contradiction < roll_contradiction;
    return {.level = odd ? Level::care : Level::ready,
            .code = Code::roll_test,
            .value = found.folded ? found.contradiction : 0,
            .limit = odd ? std::optional(roll_contradiction) : std::nullopt,
            .facts = RollFacts{found.test, found.folded}};
}

}  // namespace

Analysis analyse(const Assembly& assembly, const std::stop_token& stop) {
    return analysed(
        assembly, [](const Assembly& load) { return swept_load(load); }, stop);
}

Analysis analyse(const Assembly& assembly, AnalysisMemory& memory, const std::stop_token& stop) {
    memory.begin(assembly);
    return analysed(
        assembly,
        [&memory](const Assembly& load) {
            return swept_load(load, outline_step_m, *memory.trees(), &memory);
        },
        stop, &memory);
}

Analysis analysed(const Assembly& assembly, const Sweeper& sweeper, const std::stop_token& stop,
                  AnalysisMemory* memory) {
    std::optional<RollBelief> belief;
    if (was_rolled(assembly)) belief.emplace(assembly);
    const std::optional<Assembly> believed = belief ? std::optional(belief->load()) : std::nullopt;
    Analysis a = figures(believed ? *believed : assembly, sweeper, Detail::full, stop, memory);
    const std::vector<ItemOnRod> placed = items_on_rod(assembly);
    stop_if_asked(stop);
    for (const auto& more : {place_findings(assembly, placed, a.grip, memory), remark_findings(assembly)})
        std::copy(more.begin(), more.end(), std::back_inserter(a.findings));
    if (belief) {
        for (const RollFound& found : belief->found()) a.findings.push_back(roll_finding(found));
    }
    worst_first(a.findings);
    if (!a.findings.empty()) a.verdict = a.findings.front().level;
    return a;
}

void worst_first(std::vector<Finding>& findings) {
    // A rod beside the meat comes before what follows from it.
    const auto rank = [](const Finding& f) {
        return std::pair(-static_cast<int>(f.level), f.code == Code::rod_beside ? 0 : 1);
    };
    std::stable_sort(findings.begin(), findings.end(),
                     [&](const Finding& x, const Finding& y) { return rank(x) < rank(y); });
}

}  // namespace evenspit
