// SPDX-License-Identifier: MIT
// A turkey of 13 lb in the heat for three hours: how long that takes, against a plain explicit scheme and an
// implicit one (Crank and Nicolson, conjugate gradients) on the same flow in the same run.
#include <chrono>
#include <cmath>
#include <ctime>
#include <memory>
#include <string>
#include <vector>

#include <benchmark/benchmark.h>

#include "bench_cases.h"
#include "body/bird.h"
#include "roast/body_foods.h"
#include "roast/conduction.h"
#include "roast/item_roast.h"
#include "units/parallel.h"

namespace evenspit {
namespace {

constexpr double three_hours_s = 3 * 3600;

double processor_seconds() {
    return double(std::clock()) / CLOCKS_PER_SEC;
}

double seconds_of(const auto& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

const body::PreparedBody& turkey() {
    static const auto body = body::prepare(body::make_bird({.mass_kg = 13 * 0.45359237}));
    return *body;
}

std::vector<SurfaceExposure> cooker(const HeatGrid& grid) {
    return std::vector<SurfaceExposure>(std::size_t(grid.triangle_count), {.air_k = 422,
                                                                           .convection_w_m2k = 15,
                                                                           .irradiation_w_m2 = 2500,
                                                                           .vapour_pa = 2000,
                                                                           .wetness = 1,
                                                                           .most_water_kg_m2s = 1.5e-4});
}

// A flow's own matrix by cells, for the other schemes.
class PlainFlow {
  public:
    PlainFlow(const HeatFlow& flow, const CellBox& box) : flow_(flow), box_(box), size_(box.size()) {
        diagonal_.assign(size_, 0.0f);
        for (int axis = 0; axis < 3; ++axis) {
            const std::vector<float>& g = flow.conductance_w_k[std::size_t(axis)];
            for (std::size_t c = 0; c + box.stride(axis) < size_; ++c) {
                diagonal_[c] += g[c];
                diagonal_[c + box.stride(axis)] += g[c];
            }
        }
        for (const HeatFlow::Outlet& outlet : flow.outlets)
            diagonal_[std::size_t(outlet.cell)] += outlet.loss_w_k;
    }
    [[nodiscard]] std::size_t size() const { return size_; }
    [[nodiscard]] float diagonal(std::size_t c) const { return diagonal_[c]; }

    // out = −A θ, what leaves each cell, W.
    void apply(const std::vector<float>& theta, std::vector<float>& out) const {
        const std::size_t row = box_.stride(1), plane = box_.stride(2);
        const float* t = theta.data();
        const float* x = flow_.conductance_w_k[0].data();
        const float* y = flow_.conductance_w_k[1].data();
        const float* z = flow_.conductance_w_k[2].data();
        parallel_for(
            size_ - 2 * plane,
            [&](std::size_t begin, std::size_t end) {
                float* __restrict result = out.data();
                for (std::size_t c = begin + plane; c < end + plane; ++c) {
                    result[c] = diagonal_[c] * t[c] - x[c] * t[c + 1] - x[c - 1] * t[c - 1] -
                                y[c] * t[c + row] - y[c - row] * t[c - row] - z[c] * t[c + plane] -
                                z[c - plane] * t[c - plane];
                }
            },
            65536);
    }

  private:
    const HeatFlow& flow_;
    const CellBox& box_;
    std::size_t size_;
    std::vector<float> diagonal_;
};

// One step of Crank and Nicolson by conjugate gradients, preconditioned by the diagonal. Returns the
// iterations.
int implicit_step(const PlainFlow& flow, const HeatFlow& heat, float step_s) {
    const std::size_t n = flow.size();
    std::vector<float> theta(n, 0.0f), rest(n), search(n, 0.0f), image(n, 0.0f);
    const auto mass = [&](std::size_t c) { return heat.warming_k_j[c] > 0 ? 1 / heat.warming_k_j[c] : 0.0f; };
    std::vector<float> scale(n);
    double norm = 0, start = 0;
    for (std::size_t c = 0; c < n; ++c) {
        scale[c] = heat.warming_k_j[c] > 0 ? 1 / (mass(c) + 0.5f * step_s * flow.diagonal(c)) : 0.0f;
        rest[c] = scale[c] > 0 ? step_s * heat.rate_w[c] : 0.0f;
        search[c] = scale[c] * rest[c];
        norm += double(rest[c]) * double(search[c]);
    }
    start = norm;
    int count = 0;
    for (; count < 500 && norm > 1e-10 * start; ++count) {
        flow.apply(search, image);
        double along = 0;
        for (std::size_t c = 0; c < n; ++c) {
            image[c] = mass(c) * search[c] + 0.5f * step_s * image[c];
            along += double(search[c]) * double(image[c]);
        }
        const auto alpha = static_cast<float>(norm / along);
        double next = 0;
        for (std::size_t c = 0; c < n; ++c) {
            theta[c] += alpha * search[c];
            rest[c] -= alpha * image[c];
            next += double(rest[c]) * double(scale[c] * rest[c]);
        }
        const auto beta = static_cast<float>(next / norm);
        norm = next;
        for (std::size_t c = 0; c < n; ++c) search[c] = scale[c] * rest[c] + beta * search[c];
    }
    return count;
}

// A stage's time over that of its bytes at the pace of memory: θ of two stages, three conductances, rate and
// warming read, one θ written, four bytes each. Cells that boil or thaw, which ask their table, are left out.
double stage_against_memory(const HeatGrid& grid, HeatFlow flow) {
    flow.bent.clear();
    flow.bend = {};
    HeatStepper stepper(grid);
    const double stiffness_1_s = stepper.stiffness_1_s(flow);
    constexpr double long_s = 120;
    int stages = 0;
    const double took_s = bench::seconds([&] { stages = stepper.step(flow, long_s, stiffness_1_s).stages; });
    constexpr double bytes_a_cell = 8 * sizeof(float);
    return took_s / stages / (double(grid.active_cells()) * bytes_a_cell / bench::triad_bytes_s());
}

void roast(benchmark::State& state) {
    const double spacing = 1e-4 * double(state.range(0));
    for (auto _ : state) {
        std::shared_ptr<const HeatGrid> grid;
        const double cut_s = seconds_of(
            [&] { grid = std::make_shared<const HeatGrid>(heat_grid(turkey(), {.spacing_m = spacing})); });
        const auto meets = cooker(*grid);
        Conduction heat(grid, thermal_tables(turkey().body, *grid), 277, cooking_steps());
        const double before_s = processor_seconds();
        const double cook_s = seconds_of([&] {
            for (double to_s = 300; to_s <= three_hours_s; to_s += 300) heat.advance_to(to_s, meets);
        });
        state.counters["processor_s"] = processor_seconds() - before_s;

        // The other schemes from the middle of the cook on.
        Conduction middle(grid, thermal_tables(turkey().body, *grid), 277);
        middle.advance_to(1800, meets);
        constexpr float step_s = 60;
        const HeatFlow& flow = middle.flow_for(step_s, meets);
        const PlainFlow plain(flow, grid->box);
        const double explicit_step_s = 0.95 * 2 / HeatStepper(*grid).stiffness_1_s(flow);
        std::vector<float> theta(plain.size(), 0.0f), out(plain.size(), 0.0f);
        constexpr int tries = 20;
        const double plain_s = seconds_of([&] {
            for (int n = 0; n < tries; ++n) {
                plain.apply(theta, out);
                parallel_for(
                    plain.size(),
                    [&](std::size_t begin, std::size_t end) {
                        for (std::size_t c = begin; c < end; ++c)
                            theta[c] +=
                                float(explicit_step_s) * flow.warming_k_j[c] * (flow.rate_w[c] - out[c]);
                    },
                    65536);
            }
        });
        int iterations = 0;
        const double implicit_s = seconds_of([&] { iterations = implicit_step(plain, flow, step_s); });

        state.counters["x_triad"] = stage_against_memory(*grid, flow);
        state.counters["cells"] = double(grid->active_cells());
        state.counters["cut_s"] = cut_s;
        state.counters["cook_s"] = cook_s;
        state.counters["steps"] = heat.steps();
        state.counters["stages"] = heat.stages();
        state.counters["x_explicit"] = cook_s / (plain_s / tries * three_hours_s / explicit_step_s);
        state.counters["x_implicit"] = cook_s / (implicit_s * three_hours_s / double(step_s));
        state.counters["iterations"] = iterations;
        state.counters["imbalance"] = heat.ledger().imbalance();
        state.counters["middle_C"] = heat.temperature_at_k(Vec3(0.03, 0.05, 0.06)) - 273.15;
        state.counters["water_kg"] = heat.ledger().evaporated_kg;
    }
}
BENCHMARK(roast)->Arg(60)->Arg(40)->Arg(20)->Unit(benchmark::kSecond)->Iterations(1);

}  // namespace
}  // namespace evenspit

BENCHMARK_MAIN();
