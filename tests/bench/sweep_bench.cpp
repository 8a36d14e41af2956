// SPDX-License-Identifier: MIT
// The swept outline and the gaps from it, against a bound: one plain pass over the triangles' corners that
// computes their distance from the axis. The counter x_bound tells how many such passes a stage takes.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>
#include <memory>
#include <numbers>
#include <random>

#include <benchmark/benchmark.h>

#include "geometry/gap.h"
#include "geometry/sweep_tree.h"
#include "geometry/swept.h"
#include "support/meshes.h"

namespace evenspit {
namespace {

constexpr double pi = std::numbers::pi;

/// 200,000 triangles: a lumpy body, off the axis and askew.
const TriangleMesh& body() {
    static const TriangleMesh mesh = test::grid_mesh(400, 251, [](double u, double v) {
        const double t = pi * v, lump = 1 + 0.05 * std::sin(5 * u) * std::sin(7 * t);
        return Vec3(-0.15 * std::cos(t), 0.08 * lump * std::sin(t) * std::cos(u),
                    0.09 * lump * std::sin(t) * std::sin(u));
    });
    return mesh;
}

/// The same with its vertices in no order, as scans have them.
const TriangleMesh& shuffled_body() {
    static const TriangleMesh mesh = [] {
        TriangleMesh result = body();
        std::vector<std::int32_t> order(result.vertices.size());
        for (std::size_t i = 0; i < order.size(); ++i) order[i] = static_cast<std::int32_t>(i);
        std::mt19937 random(1);
        std::shuffle(order.begin(), order.end(), random);
        for (std::size_t i = 0; i < order.size(); ++i) {
            result.vertices[static_cast<std::size_t>(order[i])] = body().vertices[i];
        }
        for (Triangle& triangle : result.triangles) {
            for (std::int32_t& v : triangle) v = order[static_cast<std::size_t>(v)];
        }
        std::shuffle(result.triangles.begin(), result.triangles.end(), random);
        return result;
    }();
    return mesh;
}

Pose seat() {
    return Pose(Eigen::Translation3d(0.34, 0.01, -0.006) *
                Eigen::AngleAxisd(0.1, Vec3(0.2, 1, 0.5).normalized()));
}

double plain_pass(const TriangleMesh& mesh) {
    double square = 0;
    for (const Triangle& triangle : mesh.triangles) {
        for (int k = 0; k < 3; ++k) {
            const Vec3& p = mesh.corner(triangle, k);
            square = std::max(square, p.y() * p.y() + p.z() * p.z());
        }
    }
    return std::sqrt(square);
}

/// Seconds of one plain pass, best of many.
double bound_seconds() {
    static const double seconds = [] {
        double best = std::numeric_limits<double>::infinity();
        for (int i = 0; i < 50; ++i) {
            const auto start = std::chrono::steady_clock::now();
            benchmark::DoNotOptimize(plain_pass(body()));
            best = std::min(best,
                            std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
        }
        return best;
    }();
    return seconds;
}

void against_bound(benchmark::State& state) {
    state.counters["x_bound"] = benchmark::Counter(
        bound_seconds(), benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

Outline load() {
    return sweep({{.mesh = &body(), .pose = seat(), .part = 0}},
                 {{.x0 = 0.08, .x1 = 0.64, .radius = 0.004, .part = 1},
                  {.x0 = 0.16, .x1 = 0.18, .radius = 0.05, .part = 2},
                  {.x0 = 0.1, .x1 = 0.13, .radius = 0.09, .part = 3}});
}

double sag(double x) {
    return 0.003 * std::sin(pi * std::clamp((x - 0.02) / 0.64, 0.0, 1.0));
}

/// A round cooker about the middle of the load, in the manner of a ceramic one; made up.
RevolvedShape cooker() {
    RevolvedShape shape{{0.36, 0.02, 0}, {}};
    for (int i = 0; i <= 40; ++i) {
        const double angle = pi * i / 40;
        shape.profile.emplace_back(0.05 + 0.27 * std::pow(std::sin(angle), 0.6), -0.3 * std::cos(angle));
    }
    return shape;
}

/// The same as 5,120 triangles.
MeshShape cooker_mesh() {
    constexpr int n = 64;
    const RevolvedShape shape = cooker();
    TriangleMesh mesh;
    for (const Vec2& p : shape.profile) {
        for (int i = 0; i < n; ++i) {
            const double angle = 2 * pi * i / n;
            mesh.vertices.emplace_back(shape.centre +
                                       Vec3(p.x() * std::cos(angle), p.x() * std::sin(angle), p.y()));
        }
    }
    for (int k = 0; k + 1 < static_cast<int>(shape.profile.size()); ++k) {
        for (int i = 0; i < n; ++i) {
            const int a = k * n + i, b = k * n + (i + 1) % n;
            mesh.triangles.push_back({a, b, b + n});
            mesh.triangles.push_back({a, b + n, a + n});
        }
    }
    return {std::make_shared<const TriangleMesh>(std::move(mesh))};
}

void plain(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(plain_pass(body()));
    against_bound(state);
}

void sweep_ordered(benchmark::State& state) {
    for (auto _ : state) {
        benchmark::DoNotOptimize(sweep({{.mesh = &body(), .pose = seat(), .part = 0}}, {}));
    }
    against_bound(state);
}

void sweep_shuffled(benchmark::State& state) {
    for (auto _ : state) {
        benchmark::DoNotOptimize(sweep({{.mesh = &shuffled_body(), .pose = seat(), .part = 0}}, {}));
    }
    against_bound(state);
}

void tree_grown(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(SweepTree(body()));
    against_bound(state);
}

/// At the step of mountings.
void sweep_by_tree(benchmark::State& state) {
    const SweepTree tree(body());
    for (auto _ : state) benchmark::DoNotOptimize(tree.pieces(seat(), 1, 8e-3, 0));
    against_bound(state);
}

void gap_to(benchmark::State& state, const SurfaceShape& surface) {
    const Outline outline = load();
    Gap gap;
    for (auto _ : state) benchmark::DoNotOptimize(gap = nearest_gap(outline, sag, surface));
    against_bound(state);
    state.counters["gap_mm"] = 1e3 * gap.distance;
    state.counters["pieces"] = static_cast<double>(outline.pieces.size());
}

BENCHMARK(plain)->Unit(benchmark::kMillisecond);
BENCHMARK(sweep_ordered)->Unit(benchmark::kMillisecond);
BENCHMARK(sweep_shuffled)->Unit(benchmark::kMillisecond);
BENCHMARK(tree_grown)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();
BENCHMARK(sweep_by_tree)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(gap_to, plane, PlaneShape{{0, 0, -0.3}, Vec3::UnitZ()})->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(gap_to, coal_bed, BoxShape{{0.15, -0.15, -0.3}, {0.53, 0.15, -0.22}})
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(gap_to, revolved_wall, cooker())->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(gap_to, mesh_wall, cooker_mesh())->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace evenspit

BENCHMARK_MAIN();
