// SPDX-License-Identifier: MIT
// A ball that hot air warms for half an hour, against finite elements: CalculiX, on bricks that are refined
// until its error, against the series that solves this exactly, is no greater than ours. What both take
// includes making the mesh.
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <string>
#include <sys/resource.h>
#include <unistd.h>
#include <vector>

#include <benchmark/benchmark.h>

#include "roast/conduction.h"
#include "roast/heat_cases.h"
#include "roast/item_roast.h"

namespace evenspit {
namespace {

// The ball of tests/roast: a chicken's worth of meat. Y. Çengel, Heat and Mass Transfer.
constexpr double radius_m = 0.05625, conductivity = 0.45, capacity = 3.0e6, coefficient = 80;
constexpr double start_k = 281.15, oven_k = 493.15, time_s = 1800;
// CalculiX wants density and specific heat apart.
constexpr double density = 1000;

double exact_k(double distance_m) {
    static const test::SeriesSolution series(test::SeriesSolution::Shape::ball,
                                             coefficient * radius_m / conductivity);
    const double fourier = conductivity / capacity * time_s / (radius_m * radius_m);
    return oven_k + series(std::min(1.0, distance_m / radius_m), fourier) * (start_k - oven_k);
}

double processor_s(int who) {
    rusage used{};
    getrusage(who, &used);
    const auto seconds = [](const timeval& t) { return double(t.tv_sec) + 1e-6 * double(t.tv_usec); };
    return seconds(used.ru_utime) + seconds(used.ru_stime);
}

struct Outcome {
    double processor_s = 0;
    double error_k = 0;  // root of the mean square by volume
};

Outcome ours(double spacing_m) {
    const auto body = test::lump(test::ball_mesh(radius_m, 120, 90));
    const auto meets = test::convection(body->body.parts[0].mesh, oven_k, coefficient);
    const double begun = processor_s(RUSAGE_SELF);
    Conduction heat(test::grid_of(*body, spacing_m), {constant_matter(conductivity, capacity)}, start_k,
                    cooking_steps());
    heat.advance_to(time_s, meets);
    Outcome out{.processor_s = processor_s(RUSAGE_SELF) - begun};
    const Vec3 middle(0.0011, -0.0007, 0.0004);
    const HeatGrid& grid = heat.grid();
    double squares = 0, weights = 0;
    for (std::size_t c = 0; c < grid.box.size(); ++c) {
        if (!grid.carries(c) || !grid.is_inside(c)) continue;
        const double off = double(heat.temperature_k()[c]) - exact_k((grid.box.centre(c) - middle).norm());
        squares += grid.filled[c] * off * off;
        weights += grid.filled[c];
    }
    out.error_k = std::sqrt(squares / weights);
    return out;
}

// Bricks of a cube, n a side, bent into the ball: corners by index, and the bricks' own corners.
struct Bricks {
    int n;
    std::vector<Vec3> nodes;

    explicit Bricks(int side) : n(side) {
        for (int k = 0; k <= n; ++k) {
            for (int j = 0; j <= n; ++j) {
                for (int i = 0; i <= n; ++i) {
                    const Vec3 cube = (2.0 * Vec3(i, j, k) / n).array() - 1;
                    // Each square shell of the cube becomes a sphere.
                    const double shell = cube.cwiseAbs().maxCoeff(), length = cube.norm();
                    nodes.push_back(length > 0 ? Vec3(radius_m * shell / length * cube) : Vec3::Zero());
                }
            }
        }
    }
    [[nodiscard]] int node(int i, int j, int k) const { return i + (n + 1) * (j + (n + 1) * k); }
    // In the order of the bricks of Abaqus and CalculiX: the lower face round, then the upper.
    [[nodiscard]] std::array<int, 8> corners(int i, int j, int k) const {
        return {node(i, j, k),     node(i + 1, j, k),     node(i + 1, j + 1, k),     node(i, j + 1, k),
                node(i, j, k + 1), node(i + 1, j, k + 1), node(i + 1, j + 1, k + 1), node(i, j + 1, k + 1)};
    }
    template <class Each>
    void each(const Each& call) const {
        for (int k = 0; k < n; ++k) {
            for (int j = 0; j < n; ++j) {
                for (int i = 0; i < n; ++i) call(i, j, k);
            }
        }
    }
};

void write_input(const Bricks& bricks, double step_s, const std::filesystem::path& path) {
    std::ofstream out(path);
    out.precision(12);
    out << "*NODE, NSET=ALL\n";
    for (std::size_t v = 0; v < bricks.nodes.size(); ++v) {
        const Vec3& p = bricks.nodes[v];
        out << v + 1 << ',' << p.x() << ',' << p.y() << ',' << p.z() << '\n';
    }
    out << "*ELEMENT, TYPE=DC3D8, ELSET=BALL\n";
    int element = 0;
    std::string films;
    bricks.each([&](int i, int j, int k) {
        out << ++element;
        for (const int corner : bricks.corners(i, j, k)) out << ',' << corner + 1;
        out << '\n';
        const auto film = [&](bool there, int face) {
            if (there)
                films += std::to_string(element) + ",F" + std::to_string(face) + ',' +
                         std::to_string(oven_k) + ',' + std::to_string(coefficient) + '\n';
        };
        const int last = bricks.n - 1;
        film(k == 0, 1);
        film(k == last, 2);
        film(j == 0, 3);
        film(i == last, 4);
        film(j == last, 5);
        film(i == 0, 6);
    });
    out << "*MATERIAL, NAME=MEAT\n*DENSITY\n"
        << density << "\n*CONDUCTIVITY\n"
        << conductivity << "\n*SPECIFIC HEAT\n"
        << capacity / density << "\n*SOLID SECTION, ELSET=BALL, MATERIAL=MEAT\n"
        << "*INITIAL CONDITIONS, TYPE=TEMPERATURE\nALL," << start_k << "\n*STEP, INC=100000\n"
        << "*HEAT TRANSFER, DIRECT\n"
        << step_s << ',' << time_s << "\n*FILM\n"
        << films << "*NODE PRINT, NSET=ALL, FREQUENCY=100000\nNT\n*END STEP\n";
}

// A brick's volume as that of six tetrahedra.
double volume_m3(const Bricks& bricks, const std::array<int, 8>& corners) {
    constexpr int tetrahedra[6][4] = {{0, 1, 2, 6}, {0, 2, 3, 6}, {0, 3, 7, 6},
                                      {0, 7, 4, 6}, {0, 4, 5, 6}, {0, 5, 1, 6}};
    double sum = 0;
    for (const auto& t : tetrahedra) {
        const auto at = [&](int k) { return bricks.nodes[std::size_t(corners[std::size_t(t[k])])]; };
        sum += (at(1) - at(0)).cross(at(2) - at(0)).dot(at(3) - at(0)) / 6;
    }
    return sum;
}

// \return error infinite if it could not be run
Outcome calculix(int n, double step_s) {
    namespace fs = std::filesystem;
    const fs::path folder = fs::temp_directory_path() / ("evenspit-fem-" + std::to_string(::getpid()));
    fs::create_directories(folder);
    const Bricks bricks(n);
    write_input(bricks, step_s, folder / "ball.inp");
    const double begun = processor_s(RUSAGE_CHILDREN);
    const std::string command = "cd '" + folder.string() + "' && ccx -i ball > ball.out 2>&1";
    Outcome out{.error_k = std::numeric_limits<double>::infinity()};
    if (std::system(command.c_str()) == 0) {
        out.processor_s = processor_s(RUSAGE_CHILDREN) - begun;
        std::vector<double> weights(bricks.nodes.size());
        bricks.each([&](int i, int j, int k) {
            const auto corners = bricks.corners(i, j, k);
            for (const int corner : corners) weights[std::size_t(corner)] += volume_m3(bricks, corners) / 8;
        });
        std::ifstream told(folder / "ball.dat");
        double squares = 0, weight = 0;
        for (std::string line; std::getline(told, line);) {
            long v = 0;
            double kelvin = 0;
            if (std::sscanf(line.c_str(), "%ld %lf", &v, &kelvin) != 2 || v < 1) continue;
            const auto node = std::size_t(v - 1);
            const double off = kelvin - exact_k(bricks.nodes[node].norm());
            squares += weights[node] * off * off;
            weight += weights[node];
        }
        if (weight > 0) out.error_k = std::sqrt(squares / weight);
    }
    fs::remove_all(folder);
    return out;
}

void against_finite_elements(benchmark::State& state) {
    const Outcome here = ours(1e-4 * double(state.range(0)));
    for (auto _ : state) {
        double step_s = 60;
        int n = 6;
        Outcome peer = calculix(n, step_s);
        if (!std::isfinite(peer.error_k)) {
            state.SkipWithError("CalculiX (ccx) does not run here");
            return;
        }
        // Whichever helps more is refined, until it is as exact.
        while (peer.error_k > here.error_k && n < 40) {
            const Outcome finer = calculix(n + 2, step_s), shorter = calculix(n, step_s / 2);
            const double by_space = (peer.error_k - finer.error_k) / (finer.processor_s - peer.processor_s);
            const double by_time =
                (peer.error_k - shorter.error_k) / (shorter.processor_s - peer.processor_s);
            if (by_space > by_time) {
                n += 2;
                peer = finer;
            } else {
                step_s /= 2;
                peer = shorter;
            }
        }
        state.counters["x_fem"] = here.processor_s / peer.processor_s;
        state.counters["error_K"] = here.error_k;
        state.counters["peer_error_K"] = peer.error_k;
        state.counters["peer_bricks"] = n;
        state.counters["peer_step_s"] = step_s;
        state.counters["processor_ms"] = 1000 * here.processor_s;
        state.counters["peer_s"] = peer.processor_s;
    }
}
BENCHMARK(against_finite_elements)->Arg(80)->Arg(60)->Arg(40)->Unit(benchmark::kSecond)->Iterations(1);

}  // namespace
}  // namespace evenspit

BENCHMARK_MAIN();
