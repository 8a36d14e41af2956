// SPDX-License-Identifier: MIT
#include "plan/grid_search.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <random>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "analysis/analysis.h"
#include "analysis/chance.h"
#include "analysis/figures.h"
#include "analysis/mountings.h"
#include "plan/line_places.h"
#include "plan/plan_problem.h"
#include "support/degree.h"

namespace evenspit::test {
namespace {

/// The worst of what hands do not see.
Level unseen_verdict(const Analysis& analysis) {
    Level worst = Level::ready;
    for (const Finding& finding : analysis.findings) {
        if (!is_seen_by_hand(finding.code)) worst = std::max(worst, finding.level);
    }
    return worst;
}

std::vector<RodLine> lines_of(const plan::PlanProblem& problem, const Assembly& load) {
    constexpr std::size_t kept = 12;
    constexpr double step_m = 0.01;
    const body::PreparedBody& body = *load.items[0].body;
    const plan::LinePlaces places = plan::line_places(load.items[0]);
    const Vec3 centre = body.mass.centre;
    std::vector<std::pair<double, RodLine>> found;
    constexpr std::array<int, 5> steps{-2, -1, 0, 1, 2};
    for (const int a : steps) {
        for (const int b : steps) {
            for (const int c : steps) {
                for (const int d : steps) {
                    const Vec2 first = centre.tail<2>() + step_m * Vec2(a, b),
                               second = centre.tail<2>() + step_m * Vec2(c, d);
                    const RodLine line = plan::line_through(body, places.x_m, first, second);
                    if (problem.items[0].corridor->passage(line, {.enough_m = 0}).slack_m < 0) continue;
                    Arrangement arrangement = problem.before;
                    arrangement.seats[0].line = line;
                    found.emplace_back(plan::worst_torque_n_m(problem, arrangement), line);
                }
            }
        }
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<RodLine> lines{load.items[0].seat.line};
    for (const auto& [torque, line] : found) {
        if (lines.size() > kept) break;
        lines.push_back(line);
    }
    return lines;
}

/// An arrangement that was looked at quickly.
struct Looked {
    Arrangement arrangement;
    int stops = 0, cares = 0;
    double torque_n_m = 0;

    [[nodiscard]] auto key() const { return std::tuple(stops, cares, torque_n_m); }
};

}  // namespace

FreshChance fresh_chance(const Assembly& load, int draws, unsigned seed) {
    const Mountings mountings(load, 1);
    std::mt19937_64 random(seed);
    std::normal_distribution<double> normal;
    Assembly work = load;
    std::vector<double> deviates(mountings.width());
    FreshChance chance;
    for (int k = 0; k < draws; ++k) {
        for (double& deviate : deviates) deviate = normal(random);
        mountings.mount_by(work, deviates);
        const Level verdict = unseen_verdict(analyse(work));
        chance.ready += verdict == Level::ready ? 1.0 / draws : 0;
        chance.stop += verdict == Level::stop ? 1.0 / draws : 0;
    }
    return chance;
}

GridBest best_on_grid(const Assembly& load, const std::vector<Arrangement>& hubs_as) {
    const plan::PlanProblem problem = plan::plan_problem(load, analyse(load));
    const SweepTrees trees = sweep_trees(load);
    std::vector<Arrangement> hubs{problem.before};
    for (const Arrangement& other : hubs_as) hubs.push_back(other);
    std::vector<std::vector<double>> clocks;
    for (const Fork& fork : load.forks) {
        const double step = std::max(45 * degree, fork_clock_step(fork, load.rod));
        clocks.emplace_back();
        for (double by = 0; by < 179 * degree; by += step) clocks.back().push_back(by);
    }
    std::vector<Looked> looked;
    const auto look = [&](const Arrangement& arrangement) {
        const Assembly there = with_arrangement(load, arrangement);
        const Analysis quick = figures(
            there, [&](const Assembly& one) { return swept_load(one, 0.004, trees); }, Detail::trial);
        Looked one{arrangement, 0, 0, quick.balance.gravity_torque_peak_n_m};
        for (const Finding& finding : quick.findings) {
            one.stops += finding.level == Level::stop ? 1 : 0;
            one.cares += finding.level == Level::care ? 1 : 0;
        }
        looked.push_back(std::move(one));
    };
    for (const RodLine& line : lines_of(problem, load)) {
        for (const Arrangement& hub : hubs) {
            for (const double along : {-0.02, 0.0, 0.02}) {
                for (const double first : clocks.empty() ? std::vector{0.0} : clocks.front()) {
                    for (const double last : clocks.size() < 2 ? std::vector{0.0} : clocks.back()) {
                        Arrangement arrangement = hub;
                        arrangement.seats[0].line = line;
                        arrangement.seats[0].at_m += along;
                        for (Fork& fork : arrangement.forks) fork.at_m += along;
                        if (!arrangement.forks.empty())
                            arrangement.forks.front() = turned(arrangement.forks.front(), first);
                        if (arrangement.forks.size() > 1)
                            arrangement.forks.back() = turned(arrangement.forks.back(), last);
                        look(arrangement);
                    }
                }
            }
        }
    }
    std::stable_sort(looked.begin(), looked.end(),
                     [](const Looked& a, const Looked& b) { return a.key() < b.key(); });
    constexpr std::size_t judged = 60;
    constexpr int draws = 64;
    GridBest best;
    best.tried = static_cast<int>(looked.size());
    bool first = true;
    for (std::size_t k = 0; k < std::min(judged, looked.size()); ++k) {
        const Analysis analysis = judge(with_arrangement(load, looked[k].arrangement), draws, {}, &trees);
        Level written = Level::ready;
        for (const Finding& finding : analysis.findings) {
            if (finding.as_written) written = std::max(written, finding.level);
        }
        const Chance& chance = analysis.mounted->chance;
        const auto key = [](Level level, double stop, double ready) {
            return std::tuple(level == Level::stop, -ready + 5 * stop, level);
        };
        if (!first &&
            key(best.written, best.chance.stop, best.chance.ready) <= key(written, chance.stop, chance.ready))
            continue;
        first = false;
        best.arrangement = looked[k].arrangement;
        best.written = written;
        best.chance = {chance.ready, chance.stop};
    }
    return best;
}

std::vector<std::string> loads_to_plan() {
    std::mt19937 random(2026);
    const auto draw = [&random](double low, double high) {
        return low + (high - low) * (static_cast<double>(random()) / 4294967296.0);
    };
    struct Kind {
        const char* shape;
        double least_kg, most_kg, half_m;
    };
    const std::vector<Kind> kinds{{"turkey", 4.5, 7, 0.16},          {"chicken", 1.4, 2.2, 0.1},
                                  {"goose", 3.5, 5, 0.17},           {"duck", 1.8, 2.8, 0.13},
                                  {"boneless roll", 1.5, 3.5, 0.12}, {"pork shoulder", 2.5, 4, 0.12}};
    const std::vector<const char*> motors{"mains-gearmotor", "dc-gearmotor-12v", "battery-dc"},
        forks{"two-tine", "two-tine-short", "two-tine-wide", "four-tine"},
        rods{"square-8mm", "square-10mm", "square-5-16in"}, cookers{"ceramic-46", "kettle-57"};
    std::vector<std::string> loads;
    constexpr std::size_t wanted = 20;
    for (std::size_t n = 0; n < wanted; ++n) {
        const Kind& kind = kinds[n % kinds.size()];
        const double at = std::round(draw(330, 370)), off = 1000 * kind.half_m;
        loads.push_back(fmt::format(
            "title = \"roast {}\"\n[rod]\nmodel = \"{}\"\n[motor]\nmodel = \"{}\"\n[cooker]\nmodel = \"{}\"\n"
            "[[item]]\nname = \"roast\"\nshape = \"{}\"\nmass = \"{:.2f} kg\"\n{}at = \"{} mm\"\n"
            "line = {{ from = [\"{} mm\", \"{} mm\"], to = [\"{} mm\", \"{} mm\"] }}\n"
            "[[fork]]\nmodel = \"{}\"\nat = \"{} mm\"\npoints = \"point\"\nclock = \"{} deg\"\n"
            "[[fork]]\nmodel = \"{}\"\nat = \"{} mm\"\npoints = \"drive\"\nclock = \"{} deg\"\n",
            n + 1, rods[random() % rods.size()], motors[random() % motors.size()],
            cookers[random() % cookers.size()], kind.shape, draw(kind.least_kg, kind.most_kg),
            n % 6 < 4 ? "trussing = \"tight\"\n" : "", at, std::round(draw(-12, 12)),
            std::round(draw(-12, 12)), std::round(draw(-12, 12)), std::round(draw(-12, 12)),
            forks[random() % forks.size()], std::round(at - off), 15 * (random() % 12),
            forks[random() % forks.size()], std::round(at + off), 15 * (random() % 12)));
    }
    return loads;
}

}  // namespace evenspit::test
