// SPDX-License-Identifier: MIT
// How long a simulated scan of a turkey takes to become a body, stage by stage, against what a cook is
// willing to wait: 15 s for 300,000 points and 40 s for a million on two cores, 3 GB. scan_bench [thousands
// of points]
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <sys/resource.h>
#include <utility>
#include <vector>

#include "scan_cases.h"

namespace {

using namespace evenspit;
using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

double peak_gigabytes() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return double(usage.ru_maxrss) / 1e6;
}

void measure(std::size_t points, double bound_s) {
    test::ScanOptions options = test::random_scan(2);
    options.camera.width = 640;
    options.camera.height = 480;
    options.points = points;
    const test::SimulatedScan scan = test::simulate_scan(test::random_bird(2).skin, options);
    std::vector<std::pair<std::string, double>> stages;
    Clock::time_point last;
    ScanSettings settings;
    settings.mass_kg = 5;
    settings.stage = [&](std::string_view stage) {
        if (!stages.empty()) stages.back().second = seconds_since(last);
        stages.emplace_back(stage, 0);
        last = Clock::now();
    };
    const double before_gb = peak_gigabytes();
    const Clock::time_point start = Clock::now();
    const ScannedBody body = scan_body({{"simulated", {scan.mesh, {}, 1.0, 0}}}, settings);
    const double all = seconds_since(start);
    stages.back().second = seconds_since(last);
    std::printf("%zu points (wanted %zu), %zu triangles\n", scan.mesh.vertices.size(), points,
                body.mesh.triangles.size());
    double cleaning = 0;
    for (const auto& [stage, seconds] : stages) {
        std::printf("  %-46s %6.2f s  %4.0f %%\n", stage.c_str(), seconds, 100 * seconds / all);
        // Cutting away and naming parts; the rest makes the surface.
        if (stage != "averaging the points" && stage != "closing the underside" && stage != "wrapping" &&
            stage != "settling on the points" && stage != "checking")
            cleaning += seconds;
    }
    std::printf("  %-46s %6.2f s  %4.0f %%\n", "cleaning and labelling", cleaning, 100 * cleaning / all);
    std::printf("  %-46s %6.2f s, %.2f of the bound of %.0f s\n", "together", all, all / bound_s, bound_s);
    std::printf("  %-46s %6.2f GB, %.2f of the bound of 3 GB (%.2f GB before)\n", "memory", peak_gigabytes(),
                peak_gigabytes() / 3, before_gb);
}

}  // namespace

int main(int count, char** words) {
    if (count > 1) {
        measure(1000 * std::stoul(words[1]), 15);
        return EXIT_SUCCESS;
    }
    measure(300000, 15);
    measure(1000000, 40);
    return EXIT_SUCCESS;
}
