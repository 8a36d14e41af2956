// SPDX-License-Identifier: MIT
// What planning costs, against peers measured in the same run: a whole plan against one analysis of the same
// load (x_analyses), and the search for a rod line against trying every line of a grid 4 mm apart within
// 24 mm of the centre of mass (x_grid; below 1 the search is faster).
#include <algorithm>
#include <limits>

#include <benchmark/benchmark.h>

#include "bench_cases.h"
#include "body/bird.h"
#include "plan/line_search.h"
#include "plan/loads.h"
#include "plan/plan.h"
#include "units/standard_gravity.h"

namespace evenspit {
namespace {

constexpr double rod_m = 0.006;

Cooker coals_and_lid() {
    Cooker cooker;
    cooker.surfaces = {{"coals", BoxShape{{0.1, -0.2, -0.3}, {0.7, 0.2, -0.2}}, true, 973.15, 0.05},
                       {"lid",
                        RevolvedShape{{0.4, 0, 0}, {{0.40, 0}, {0.33, 0.2}, {0.10, 0.25}, {0, 0.26}}},
                        false,
                        {},
                        0.025}};
    return cooker;
}

Assembly roast(int around, int along) {
    std::mt19937 random(3);
    Assembly load = test::load_of(test::item_of(test::flesh_body(test::lumpy_mesh(random, around, along), 3),
                                                {.at_m = 0.4, .line = {.from = {0.01, 0}, .to = {0, 0.01}}}));
    load.cooker = coals_and_lid();
    return load;
}

/// A body of 200,000 triangles, as a scan has them.
const Assembly& scan() {
    static const Assembly load = roast(400, 251);
    return load;
}

const Assembly& turkey() {
    static const Assembly load = [] {
        Assembly bird = test::load_of(
            test::item_of(body::make_bird({.species = "turkey", .mass_kg = 5.9}), {.at_m = 0.4}));
        bird.cooker = coals_and_lid();
        return bird;
    }();
    return load;
}

void plan(benchmark::State& state, const Assembly& (*load)()) {
    double analysis_s = std::numeric_limits<double>::infinity();
    for (int i = 0; i < 5; ++i) {
        analysis_s =
            std::min(analysis_s, bench::seconds([&] { benchmark::DoNotOptimize(analyse(load())); }, 1));
    }
    double plan_s = std::numeric_limits<double>::infinity();
    for ([[maybe_unused]] const auto _ : state) {
        plan_s =
            std::min(plan_s, bench::seconds([&] { benchmark::DoNotOptimize(plan::make_plan(load())); }, 1));
    }
    state.counters["x_analyses"] = plan_s / analysis_s;
}
BENCHMARK_CAPTURE(plan, of_a_turkey, turkey)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(plan, of_a_scan_of_200k, scan)->Unit(benchmark::kMillisecond);

/// The least torque of all lines of the grid that can be taken.
double best_of_grid(const Item& item, const plan::PlanItem& ready) {
    constexpr int reach = 6;
    constexpr double step_m = 0.004;
    const Vec2 centre = item.body->mass.centre.tail<2>();
    double best = std::numeric_limits<double>::infinity();
    for (int i = -reach; i <= reach; ++i) {
        for (int j = -reach; j <= reach; ++j) {
            for (int k = -reach; k <= reach; ++k) {
                for (int l = -reach; l <= reach; ++l) {
                    Seat seat = item.seat;
                    seat.line = {.from = centre + step_m * Vec2(i, j), .to = centre + step_m * Vec2(k, l)};
                    const double torque =
                        standard_gravity * plan::worst_size(plan::item_unbalance(item, ready.masses, seat));
                    if (ready.corridor->passage(seat.line).slack_m >= 0) best = std::min(best, torque);
                }
            }
        }
    }
    return best;
}

void line(benchmark::State& state) {
    static const Assembly load = roast(64, 48);
    const Item& item = load.items[0];
    const plan::PlanItem ready = plan::plan_item(item, rod_m);
    const plan::LineGoal goal{.seat = item.seat, .rest = plan::no_unbalance(), .torque_floor_n_m = 0.005};
    const double grid_s = bench::seconds([&] { benchmark::DoNotOptimize(best_of_grid(item, ready)); }, 1);
    double line_s = std::numeric_limits<double>::infinity();
    for ([[maybe_unused]] const auto _ : state) {
        line_s = std::min(line_s,
                          bench::seconds([&] { benchmark::DoNotOptimize(plan::find_line(ready, goal)); }, 1));
    }
    state.counters["x_grid"] = line_s / grid_s;
}
BENCHMARK(line)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace evenspit

BENCHMARK_MAIN();
