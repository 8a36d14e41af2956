// SPDX-License-Identifier: MIT
#include "plan/margin.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "analysis/chance.h"
#include "analysis/figures.h"
#include "analysis/limits.h"
#include "analysis/normal_share.h"
#include "analysis/place_findings.h"
#include "units/stopped.h"

namespace evenspit::plan {
namespace {

/// Mountings that an arrangement is weighed by.
constexpr int looked_at = 16;

/// What goes wrong together: the worst of each counts.
enum class Group : std::size_t { turning, rod, hold, other };

struct FigureLimits {
    Group group = Group::other;
    double care = 0;
    std::optional<double> stop{};
    bool at_least = false;  ///< the figure must not be less; else not more
};

/// From where a figure asks for care and is a stop; nothing where none does.
std::optional<FigureLimits> limits_of(const FigureId& figure, const Assembly& assembly) {
    using enum FigureId::Kind;
    switch (figure.kind) {
        case motor_use:
            return FigureLimits{Group::turning, limits::motor_care, limits::motor_stop};
        case pull:
            return FigureLimits{Group::turning, limits::pull_care * assembly.motor.rated_torque_n_m};
        case knock:
            return FigureLimits{Group::turning, limits::knock_care * assembly.motor.rated_torque_n_m};
        case irregularity:
            return FigureLimits{Group::turning, limits::uneven_care};
        case sag:
            return FigureLimits{Group::rod, limits::sag_care_m};
        case yield_use:
            return FigureLimits{Group::rod, limits::yield_care, limits::yield_stop};
        case grip_torque_use:
        case hold_use:
        case slide_use:
        case clamp_use:
        case tine_bend_use:
            return FigureLimits{Group::hold, limits::grip_care, limits::grip_stop};
        case gap:
            return FigureLimits{Group::other, assembly.cooker.surfaces[figure.index].keep_m,
                                limits::gap_stop_m, true};
        default:
            return std::nullopt;
    }
}

/// Σ log Φ as it is gathered.
class Shares {
  public:
    void add(const FigureLimits& figure, double middle, double sigma) {
        const auto share = [&](double limit) {
            // What is far off counts no more than what is off by 8.
            const double room = figure.at_least ? middle - limit : limit - middle;
            return std::log(normal_share(std::max(-8.0, room / sigma)));
        };
        add(ready_, figure.group, share(figure.care));
        if (figure.stop) add(no_stop_, figure.group, share(*figure.stop));
    }
    [[nodiscard]] double log_ready() const { return sum(ready_); }
    [[nodiscard]] double log_no_stop() const { return sum(no_stop_); }

  private:
    using Groups = std::array<double, 4>;

    static void add(Groups& groups, Group group, double log_share) {
        double& there = groups[static_cast<std::size_t>(group)];
        there = group == Group::other ? there + log_share : std::min(there, log_share);
    }
    static double sum(const Groups& groups) { return groups[0] + groups[1] + groups[2] + groups[3]; }

    Groups ready_{}, no_stop_{};
};

/// The load as written, worked out as its mountings are.
Analysis quick_figures(const PlanProblem& problem, const Assembly& load) {
    stop_if_asked(problem.stop);
    Analysis analysis = figures(
        load, [&](const Assembly& one) { return swept_load(one, mounting_step_m, problem.trees); },
        Detail::trial, problem.stop);
    for (Finding& finding : place_findings(load, items_on_rod(load), analysis.grip))
        analysis.findings.push_back(std::move(finding));
    return analysis;
}

Margin as_written(const PlanProblem& problem, const Arrangement& arrangement, const Analysis& analysis) {
    Margin margin{.torque_use =
                      worst_torque_n_m(problem, arrangement) / problem.assembly.motor.rated_torque_n_m};
    for (const Finding& finding : analysis.findings) {
        if (!is_seen_by_hand(finding.code)) continue;
        margin.stops += finding.level == Level::stop ? 1 : 0;
        margin.cares += finding.level == Level::care ? 1 : 0;
    }
    return margin;
}

}  // namespace

double Margin::score() const {
    // What has no chance to speak of has hardly less of one when it is further off; enough to go on from.
    constexpr double least_chance = 0.01, further_off = 0.01;
    // A stop in 5 of 100 mountings is as bad as to be ready half as often; what hands have to mend, as four
    // tenths less often; the motor used to a tenth of its rating, as 2 of 100 less often. From memory of what
    // one would rather have.
    constexpr double stop_weight = 13, care_weight = 0.5, seen_stop_weight = 3, torque_weight = 0.2;
    return std::log(std::exp(log_ready) + least_chance) + further_off * log_ready +
           stop_weight * log_no_stop - care_weight * cares - seen_stop_weight * stops -
           torque_weight * torque_use;
}

bool Margin::worthy() const {
    return stops + cares == 0 && std::exp(log_ready) >= limits::worthy_chance;
}

bool Margin::better_than(const Margin& other) const {
    constexpr double told_apart = 1e-6;
    return score() > other.score() + told_apart;
}

Weighed weighed(const PlanProblem& problem, const Arrangement& arrangement) {
    const Assembly load = with_arrangement(problem.assembly, arrangement);
    Analysis analysis = quick_figures(problem, load);
    Weighed result{.margin = as_written(problem, arrangement, analysis), .figures = {}};
    const Analysis written = analysis;
    add_mountings(analysis, load, looked_at, problem.stop, &problem.trees);
    Shares shares;
    for (const FigureSpread& spread : analysis.mounted->spread) {
        const std::optional<FigureLimits> limit = limits_of(spread.figure, load);
        if (!limit) continue;
        constexpr double deviations_5_to_95 = 2 * 1.6449;
        constexpr double least_share = 1e-6;  // of the limit, so that what has no spread counts as sure
        const double sigma =
            std::max((spread.p95 - spread.p5) / deviations_5_to_95, least_share * std::abs(limit->care));
        const std::optional<double> drawn = value_of(spread.figure, written);
        result.figures.push_back({spread.figure, spread.p50 - drawn.value_or(spread.p50), sigma});
        shares.add(*limit, spread.p50, sigma);
    }
    result.margin.log_ready = shares.log_ready();
    result.margin.log_no_stop = shares.log_no_stop();
    return result;
}

Margin expected_margin(const PlanProblem& problem, const Arrangement& arrangement,
                       const std::vector<LimitedFigure>& near) {
    const Assembly load = with_arrangement(problem.assembly, arrangement);
    const Analysis analysis = quick_figures(problem, load);
    Margin margin = as_written(problem, arrangement, analysis);
    Shares shares;
    for (const LimitedFigure& figure : near) {
        const std::optional<double> drawn = value_of(figure.figure, analysis);
        if (drawn) shares.add(*limits_of(figure.figure, load), *drawn + figure.shift, figure.sigma);
    }
    margin.log_ready = shares.log_ready();
    margin.log_no_stop = shares.log_no_stop();
    return margin;
}

}  // namespace evenspit::plan
