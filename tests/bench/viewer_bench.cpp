// SPDX-License-Identifier: MIT
// From an edit in the viewer to its answer and the scene that shows it, painting left out, for a body of
// 200,000 triangles: median and 99th percentile of many edits, of processor time over all threads, as the
// clock on the wall tells others' work too (wall_ms is its median). The counter x_analyse tells how much of
// an analysis that knows nothing of the edits before an edit takes; allocations, how often an edit asks for
// memory.
#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <new>
#include <numbers>
#include <utility>
#include <vector>

#include <benchmark/benchmark.h>

#include "analysis/loads.h"
#include "app/viewer/answers.h"
#include "app/viewer/session.h"
#include "app/viewer/sighting.h"

namespace {

std::atomic<long> allocated{0};

}  // namespace

// Not inlined, or the compiler takes malloc and delete for a mismatch.
[[gnu::noinline]] void* operator new(std::size_t bytes) {
    ++allocated;
    if (void* const place = std::malloc(bytes > 0 ? bytes : 1)) return place;
    throw std::bad_alloc();
}

[[gnu::noinline]] void operator delete(void* place) noexcept {
    std::free(place);
}

[[gnu::noinline]] void operator delete(void* place, std::size_t) noexcept {
    std::free(place);
}

namespace evenspit::viewer {
namespace {

double wall_s() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

double processor_s() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

double at_share(std::vector<double> values, double share) {
    std::sort(values.begin(), values.end());
    return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
}

const Assembly& load() {
    static const Assembly assembly = test::lumpy_load();
    return assembly;
}

enum class Move { rod_line, turn, fork, weight };

/// No two of them that are near in time set a thing to the same place, so that nothing is known beforehand of
/// what moves.
Edit edit_of(Move move, const Assembly& now, int step) {
    constexpr int places = 17;
    const int across = step % places, over = step / places % places;
    Seat seat = now.items[0].seat;
    switch (move) {
        case Move::rod_line:
            seat.line.from = Vec2(0.001 * across - 0.004, 0.001 * over - 0.014);
            return SetSeat{0, seat};
        case Move::turn:
            seat.turn_rad = std::numbers::pi / 180 * (places * over + across);
            return SetSeat{0, seat};
        case Move::fork:
            return SetFork{0, 0.220 + 0.001 * across, Facing::point, 0};
        case Move::weight:
            break;
    }
    return SetWeight{0,
                     {.at_m = 0.09 + 0.001 * across,
                      .mass_kg = 0.3,
                      .radius_m = 0.07,
                      .clock_rad = 1,
                      .diameter_m = 0.04}};
}

double whole_analysis_s() {
    constexpr int times = 11;
    std::vector<double> took;
    for (int i = 0; i < times; ++i) {
        const double start = processor_s();
        benchmark::DoNotOptimize(analyse(load()));
        took.push_back(processor_s() - start);
    }
    return at_share(took, 0.5);
}

void bm_edit_to_answer(benchmark::State& state, Move move) {
    constexpr int edits = 300;
    Assembly start = load();
    start.counterweights = {
        {.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 1, .diameter_m = 0.04}};
    Session session(start, "", "load.toml");
    SceneMaker maker;
    Answer answer = worked_out(start);
    benchmark::DoNotOptimize(maker.scene(start, answer.analysis));
    std::vector<double> processor, wall, asked;
    for ([[maybe_unused]] auto round : state) {
        for (int step = 1; step <= edits; ++step) {
            const long before = allocated;
            const double began = wall_s(), worked = processor_s();
            session.edit(edit_of(move, session.assembly(), step), "drag");
            answer = worked_out_after(answer, session.assembly());
            benchmark::DoNotOptimize(maker.scene(session.assembly(), answer.analysis));
            processor.push_back(processor_s() - worked);
            wall.push_back(wall_s() - began);
            asked.push_back(static_cast<double>(allocated - before));
        }
    }
    state.counters["median_ms"] = 1000 * at_share(processor, 0.5);
    state.counters["p99_ms"] = 1000 * at_share(processor, 0.99);
    state.counters["wall_ms"] = 1000 * at_share(wall, 0.5);
    state.counters["allocations"] = at_share(asked, 0.5);
    state.counters["x_analyse"] = at_share(processor, 0.5) / whole_analysis_s();
}

BENCHMARK_CAPTURE(bm_edit_to_answer, rod_line, Move::rod_line)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK_CAPTURE(bm_edit_to_answer, turn, Move::turn)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK_CAPTURE(bm_edit_to_answer, fork, Move::fork)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK_CAPTURE(bm_edit_to_answer, counterweight, Move::weight)
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1);

}  // namespace
}  // namespace evenspit::viewer

BENCHMARK_MAIN();
