// SPDX-License-Identifier: MIT
#include "analysis/analysis.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "analysis/figure_findings.h"
#include "analysis/figures.h"
#include "analysis/place_findings.h"
#include "analysis/placed.h"
#include "units/stopped.h"

namespace evenspit {

Analysis analyse(const Assembly& assembly, const std::stop_token& stop) {
    Analysis a = figures(
        assembly, [](const Assembly& load) { return swept_load(load); }, Detail::full, stop);
    const std::vector<PlacedItem> placed = place_items(assembly);
    stop_if_asked(stop);
    for (const auto& more : {place_findings(assembly, placed, a.grip), remark_findings(assembly)})
        std::copy(more.begin(), more.end(), std::back_inserter(a.findings));
    worst_first(a.findings);
    if (!a.findings.empty()) a.verdict = a.findings.front().level;
    return a;
}

void worst_first(std::vector<Finding>& findings) {
    std::stable_sort(findings.begin(), findings.end(),
                     [](const Finding& x, const Finding& y) { return x.level > y.level; });
}

}  // namespace evenspit
