// SPDX-License-Identifier: MIT
#include "analysis/hold_findings.h"

#include <algorithm>

#include "analysis/limits.h"
#include "analysis/placed.h"

namespace evenspit {
namespace {

Finding use_finding(Code code, const Thing& about, double use) {
    const Level level = by_limits(use, limits::grip_care, limits::grip_stop);
    return {.level = level,
            .code = code,
            .about = about,
            .value = use,
            .limit = level == Level::stop ? limits::grip_stop : limits::grip_care};
}

}  // namespace

std::vector<Finding> hold_findings(const Assembly& assembly, const Analysis& analysis) {
    std::vector<Finding> out;
    const Grip& grip = analysis.grip;
    for (std::size_t i = 0; i < grip.items.size(); ++i) {
        const Thing about{Thing::Kind::item, i};
        if (grip.items[i].hold_use)
            out.push_back(use_finding(Code::grip_weight, about, *grip.items[i].hold_use));
        if (grip.items[i].slide_use)
            out.push_back(use_finding(Code::clamp_slides, about, *grip.items[i].slide_use));
    }
    for (std::size_t f = 0; f < grip.forks.size(); ++f) {
        const Thing about{Thing::Kind::fork, f};
        const ForkGrip& fork = grip.forks[f];
        if (fork.clamp_use) out.push_back(use_finding(Code::clamp_turns, about, *fork.clamp_use));
        std::optional<double> bend;
        std::size_t worst = 0;
        for (std::size_t t = 0; t < fork.tines.size(); ++t) {
            if (fork.tines[t].bend_use.value_or(0) <= bend.value_or(0)) continue;
            bend = fork.tines[t].bend_use;
            worst = t;
        }
        if (!bend) continue;
        out.push_back(use_finding(Code::tine_bends, about, *bend));
        out.back().spot = Spot{tine_middle(assembly.forks[f], worst)};
    }
    for (std::size_t s = 0; s < 2; ++s) {
        const double up = analysis.rod.reactions_n[s];
        if (up >= 0) continue;
        out.push_back({.level = Level::care,
                       .code = Code::support_pulls_down,
                       .about = {Thing::Kind::support, s},
                       .spot = Spot{Vec3(assembly.rod.supports_m[s], 0, 0)},
                       .value = -up,
                       .limit = 0.0});
    }
    return out;
}

}  // namespace evenspit
