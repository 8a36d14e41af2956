// SPDX-License-Identifier: MIT
// From an edit in the viewer to its answer, drawing left out, for a body of 200,000 triangles; median of the
// repetitions. The bound is 16 ms, a frame's time. The counter x_analyse tells how much longer it takes than
// the analysis alone.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <vector>

#include <benchmark/benchmark.h>

#include "analysis/loads.h"
#include "app/viewer/answers.h"
#include "app/viewer/session.h"
#include "app/viewer/sighting.h"

namespace evenspit::viewer {
namespace {

using Clock = std::chrono::steady_clock;

double since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

double median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

const Assembly& load() {
    static const Assembly assembly = test::lumpy_load();
    return assembly;
}

enum class Move { rod_line, turn, fork, weight };

Edit edit_of(Move move, const Assembly& now, int step) {
    const double sway = 0.001 * (step % 7);
    Seat seat = now.items[0].seat;
    switch (move) {
        case Move::rod_line:
            seat.line.from.y() = sway;
            return SetSeat{0, seat};
        case Move::turn:
            seat.turn_rad = 10 * sway;
            return SetSeat{0, seat};
        case Move::fork:
            return SetFork{0, 0.230 + sway, Facing::point, 0};
        case Move::weight:
            break;
    }
    return SetWeight{
        0, {.at_m = 0.1 + sway, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 1, .diameter_m = 0.04}};
}

void bm_edit_to_answer(benchmark::State& state, Move move) {
    Assembly start = load();
    start.counterweights = {
        {.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 1, .diameter_m = 0.04}};
    Session session(start, "", "load.toml");
    SceneMaker maker;
    benchmark::DoNotOptimize(maker.scene(start, analyse(start)));
    std::vector<double> edits, analyses;
    int step = 0;
    for ([[maybe_unused]] auto round : state) {
        const auto begin = Clock::now();
        session.edit(edit_of(move, session.assembly(), ++step), "drag");
        const auto asked = Clock::now();
        const Analysis analysis = analyse(session.assembly());
        analyses.push_back(since(asked));
        benchmark::DoNotOptimize(maker.scene(session.assembly(), analysis));
        edits.push_back(since(begin));
    }
    state.counters["median_ms"] = 1000 * median(edits);
    state.counters["x_analyse"] = median(edits) / median(analyses);
}

BENCHMARK_CAPTURE(bm_edit_to_answer, rod_line, Move::rod_line)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(bm_edit_to_answer, turn, Move::turn)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(bm_edit_to_answer, fork, Move::fork)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(bm_edit_to_answer, counterweight, Move::weight)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace evenspit::viewer

BENCHMARK_MAIN();
