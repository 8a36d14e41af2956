// SPDX-License-Identifier: MIT
// How time and memory grow with what is asked: triangles, items on the rod, cells of a cook. Each benchmark
// runs over sizes a decade or so apart; table.py fits the exponent of time over size.
#include <cstdint>
#include <filesystem>
#include <malloc.h>
#include <memory>
#include <vector>

#include <benchmark/benchmark.h>

#include "analysis/analysis.h"
#include "analysis/loads.h"
#include "bench_cases.h"
#include "body/joint.h"
#include "geometry/bvh.h"
#include "geometry/mesh_io.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "roast/body_foods.h"
#include "roast/conduction.h"
#include "roast/item_roast.h"

namespace evenspit {
namespace {

using bench::folded_body;

// What the program holds of the heap, bytes.
double heap_bytes() {
    const struct mallinfo2 heap = mallinfo2();
    return double(heap.uordblks) + double(heap.hblkhd);
}

void moments(benchmark::State& state) {
    const TriangleMesh mesh = folded_body(state.range(0));
    for (auto _ : state) benchmark::DoNotOptimize(volume_moments(mesh));
}

void solid(benchmark::State& state) {
    const TriangleMesh mesh = folded_body(state.range(0));
    for (auto _ : state) benchmark::DoNotOptimize(check_solid(mesh));
}

void tree(benchmark::State& state) {
    const TriangleMesh mesh = folded_body(state.range(0));
    for (auto _ : state) {
        const double before = heap_bytes();
        const SolidQueries queries(mesh);
        benchmark::DoNotOptimize(&queries);
        state.counters["bytes_a_triangle"] = (heap_bytes() - before) / double(mesh.triangles.size());
    }
}

// A chord through the body: its own work grows with the crossings alone.
void chord(benchmark::State& state) {
    const SolidQueries queries(folded_body(state.range(0)));
    for (auto _ : state) benchmark::DoNotOptimize(queries.inside({-0.3, 0.011, 0.007}, {0.3, 0.013, 0.009}));
}

void read(benchmark::State& state) {
    const auto path = std::filesystem::temp_directory_path() / "evenspit-growth.ply";
    write_mesh(path, folded_body(state.range(0)));
    for (auto _ : state) benchmark::DoNotOptimize(read_mesh(path));
    std::filesystem::remove(path);
}

BENCHMARK(moments)
    ->RangeMultiplier(10)
    ->Range(10'000, 1'000'000)
    ->Arg(5'000'000)
    ->Unit(benchmark::kMillisecond);
BENCHMARK(solid)
    ->RangeMultiplier(10)
    ->Range(10'000, 1'000'000)
    ->Arg(5'000'000)
    ->Unit(benchmark::kMillisecond);
BENCHMARK(tree)->RangeMultiplier(10)->Range(10'000, 1'000'000)->Arg(5'000'000)->Unit(benchmark::kMillisecond);
BENCHMARK(chord)->RangeMultiplier(10)->Range(10'000, 1'000'000)->Unit(benchmark::kMillisecond);
BENCHMARK(read)->RangeMultiplier(10)->Range(10'000, 1'000'000)->Arg(5'000'000)->Unit(benchmark::kMillisecond);

// Small roasts one beside the other on a long rod, each between forks of its own.
void items(benchmark::State& state) {
    Assembly load = test::good_load();
    const auto count = int(state.range(0));
    const double room = 0.12;
    load.items.clear();
    load.forks.clear();
    load.rod.length_m = 0.2 + room * count;
    load.rod.supports_m = {0.02, load.rod.length_m - 0.02};
    for (int n = 0; n < count; ++n) {
        const double at = 0.1 + room * (n + 0.5);
        load.items.push_back(test::item("roast", test::flesh(test::wavy_mesh(40, 40)), at));
        load.forks.push_back(test::two_tines(at - 0.055, Facing::point, 0.03));
        load.forks.push_back(test::two_tines(at + 0.055, Facing::drive, 0.03));
    }
    for (auto _ : state) benchmark::DoNotOptimize(analyse(load));
}
BENCHMARK(items)->Arg(1)->Arg(10)->Arg(50)->Arg(200)->Unit(benchmark::kMillisecond);

// Ten minutes of a boneless roll in the heat; the size is the spacing of its cells, in tenths of a
// millimetre.
void cook(benchmark::State& state) {
    const auto roll = body::prepare(body::make_joint({.mass_kg = 2}));
    const auto grid =
        std::make_shared<const HeatGrid>(heat_grid(*roll, {.spacing_m = 1e-4 * double(state.range(0))}));
    const std::vector<SurfaceExposure> heat(std::size_t(grid->triangle_count), {.air_k = 422,
                                                                                .convection_w_m2k = 15,
                                                                                .irradiation_w_m2 = 2500,
                                                                                .vapour_pa = 2000,
                                                                                .wetness = 1,
                                                                                .most_water_kg_m2s = 1.5e-4});
    for (auto _ : state) {
        const double before = heap_bytes();
        Conduction conduction(grid, thermal_tables(roll->body, *grid), 277, cooking_steps());
        conduction.advance_to(600, heat);
        state.counters["bytes_a_cell"] = (heap_bytes() - before) / double(grid->active_cells());
    }
    state.counters["cells"] = double(grid->active_cells());
}
BENCHMARK(cook)->Arg(80)->Arg(40)->Arg(20)->Arg(10)->Unit(benchmark::kMillisecond)->Iterations(1);

}  // namespace
}  // namespace evenspit

BENCHMARK_MAIN();
