// SPDX-License-Identifier: MIT
// The parts of an analysis for a body of 200,000 triangles, against a bound: one plain pass over the
// triangles' corners that computes their distance from the axis. The counter x_bound tells how many such
// passes a part takes.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>

#include <benchmark/benchmark.h>

#include "analysis/analysis.h"
#include "analysis/balance.h"
#include "analysis/beam.h"
#include "analysis/chance.h"
#include "analysis/clearance.h"
#include "analysis/figure_findings.h"
#include "analysis/grip.h"
#include "analysis/loads.h"
#include "analysis/place_findings.h"
#include "analysis/placed.h"
#include "analysis/rod_check.h"

namespace evenspit {
namespace {

using Clock = std::chrono::steady_clock;

const Assembly& load() {
    static const Assembly assembly = test::lumpy_load();
    return assembly;
}

double plain_pass(const TriangleMesh& mesh) {
    double square = 0;
    for (const Triangle& triangle : mesh.triangles) {
        for (int k = 0; k < 3; ++k)
            square = std::max(square, mesh.corner(triangle, k).tail<2>().squaredNorm());
    }
    return std::sqrt(square);
}

/// The bound: the best of some plain passes, s.
double bound_s() {
    static const double best = [] {
        double least = std::numeric_limits<double>::infinity();
        for (int i = 0; i < 20; ++i) {
            const auto start = Clock::now();
            benchmark::DoNotOptimize(plain_pass(load().items[0].body->body.parts[0].mesh));
            least = std::min(least, std::chrono::duration<double>(Clock::now() - start).count());
        }
        return least;
    }();
    return best;
}

template <typename Part>
void measured(benchmark::State& state, const Part& part) {
    const double bound = bound_s();
    const auto start = Clock::now();
    for ([[maybe_unused]] auto round : state) benchmark::DoNotOptimize(part());
    const double each =
        std::chrono::duration<double>(Clock::now() - start).count() / static_cast<double>(state.iterations());
    state.counters["x_bound"] = each / bound;
}

void bm_place_items(benchmark::State& state) {
    measured(state, [] { return place_items(load()); });
}

void bm_grip(benchmark::State& state) {
    const std::vector<ItemOnRod> items = items_on_rod(load());
    measured(state, [&] { return grip(load(), items); });
}

void bm_rod(benchmark::State& state) {
    const std::vector<ItemOnRod> items = items_on_rod(load());
    const Grip held = grip(load(), items);
    measured(state, [&] {
        const RodLoading loading = rod_loading(load(), items, held, Carried::by_tines);
        return rod_result(load().rod, loading, rod_beam(load().rod, loading), 0.05);
    });
}

void bm_balance(benchmark::State& state) {
    measured(state, [] { return balance(turning_masses(load(), Doneness::raw), load().motor, 0.05); });
}

void bm_swept_outline(benchmark::State& state) {
    measured(state, [&] { return swept_load(load()); });
}

void bm_clearance(benchmark::State& state) {
    const std::vector<ItemOnRod> items = items_on_rod(load());
    const SweptLoad outline = swept_load(load());
    const Beam beam =
        rod_beam(load().rod, rod_loading(load(), items, grip(load(), items), Carried::by_tines));
    measured(state, [&] { return clearance(load().cooker, outline, beam); });
}

void bm_places(benchmark::State& state) {
    const std::vector<ItemOnRod> placed = items_on_rod(load());
    const Grip held = grip(load(), items_on_rod(load()));
    measured(state, [&] { return place_findings(load(), placed, held); });
}

/// Each mounting against one plain pass, and against an analysis of its own.
void bm_mountings(benchmark::State& state) {
    constexpr int count = 64;
    const Analysis written = analyse(load());
    const auto judge_all = [&] {
        Analysis a = written;
        add_mountings(a, load(), count);
        return a;
    };
    measured(state, judge_all);
    state.counters["x_bound"] /= count;
    state.counters["ms_each"] = 1000 * state.counters["x_bound"] * bound_s();
    const auto start = Clock::now();
    benchmark::DoNotOptimize(analyse(load()));
    const double one = std::chrono::duration<double>(Clock::now() - start).count();
    state.counters["x_analysis"] = state.counters["x_bound"] * bound_s() / one;
}

void bm_analyse(benchmark::State& state) {
    measured(state, [] { return analyse(load()); });
}

BENCHMARK(bm_place_items)->Unit(benchmark::kMicrosecond);
BENCHMARK(bm_grip)->Unit(benchmark::kMicrosecond);
BENCHMARK(bm_rod)->Unit(benchmark::kMicrosecond);
BENCHMARK(bm_balance)->Unit(benchmark::kMicrosecond);
BENCHMARK(bm_swept_outline)->Unit(benchmark::kMicrosecond);
BENCHMARK(bm_clearance)->Unit(benchmark::kMicrosecond);
BENCHMARK(bm_places)->Unit(benchmark::kMicrosecond);
BENCHMARK(bm_mountings)->Unit(benchmark::kMicrosecond);
BENCHMARK(bm_analyse)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace evenspit

BENCHMARK_MAIN();
