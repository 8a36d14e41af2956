// SPDX-License-Identifier: MIT
// Making a parametric body, against a bound: its field evaluated once at every point of the mesher's lattice.
// The counter x_bound tells how many such passes the whole takes: meshing, bones, regions and shares.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>
#include <memory>
#include <string>

#include <benchmark/benchmark.h>

#include "body/bird_model.h"
#include "body/bird_species.h"
#include "body/joint_models.h"
#include "body/shape.h"

namespace evenspit {
namespace {

struct Case {
    std::string name;
    double mass_kg = 0;
    body::BodyModel model;
    double spacing_m = 0;
};

Case case_of(const std::string& name) {
    for (const body::BirdSpecies& species : body::bird_species_table()) {
        if (species.name != name) continue;
        const auto shape = std::make_shared<const body::BirdShape>(species.form_at(species.reference_kg));
        return {name, species.reference_kg, body::bird_model(name, shape, species.matter()),
                body::BirdOptions{}.spacing_m};
    }
    for (const body::JointKind& kind : body::joint_table()) {
        if (kind.name == name)
            return {name, std::sqrt(kind.least_kg * kind.greatest_kg), kind.model(body::Trussing::tight),
                    kind.spacing_m};
    }
    return {};
}

// Every point of a body-centred lattice: two a cube.
double plain_pass(const Case& c) {
    double sum = 0;
    for (double x = c.model.box.min().x(); x < c.model.box.max().x(); x += c.spacing_m) {
        for (double y = c.model.box.min().y(); y < c.model.box.max().y(); y += c.spacing_m) {
            for (double z = c.model.box.min().z(); z < c.model.box.max().z(); z += c.spacing_m) {
                const Vec3 corner(x, y, z);
                sum += c.model.flesh(corner) + c.model.flesh(corner + Vec3::Constant(0.5 * c.spacing_m));
            }
        }
    }
    return sum;
}

double bound_seconds(const Case& c) {
    double best = std::numeric_limits<double>::infinity();
    for (int i = 0; i < 5; ++i) {
        const auto start = std::chrono::steady_clock::now();
        benchmark::DoNotOptimize(plain_pass(c));
        best =
            std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
    }
    return best;
}

void make(benchmark::State& state, const std::string& name) {
    const Case c = case_of(name);
    body::ShapeOptions options;
    options.species = name;
    options.mass_kg = c.mass_kg;
    for (auto _ : state) benchmark::DoNotOptimize(body::make_shape(options));
    state.counters["x_bound"] = benchmark::Counter(
        bound_seconds(c), benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

// Fitted to a tape: some dozens of coarse birds on the way.
void make_taped(benchmark::State& state) {
    const Case c = case_of("turkey");
    body::ShapeOptions options;
    options.species = "turkey";
    options.mass_kg = c.mass_kg;
    options.tape = {.length = 0.37, .width = 0.22};
    for (auto _ : state) benchmark::DoNotOptimize(body::make_shape(options));
    state.counters["x_bound"] = benchmark::Counter(
        bound_seconds(c), benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

BENCHMARK(make_taped)->UseRealTime()->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace evenspit

int main(int argc, char** argv) {
    for (const std::string& name : evenspit::body::shape_names()) {
        benchmark::RegisterBenchmark(("make/" + name).c_str(),
                                     [name](benchmark::State& state) { evenspit::make(state, name); })
            ->UseRealTime()
            ->Unit(benchmark::kMillisecond);
    }
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
    return 0;
}
