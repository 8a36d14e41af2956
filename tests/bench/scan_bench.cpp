// SPDX-License-Identifier: MIT
// How long a simulated scan of a turkey takes to become a body, stage by stage, against what a cook is
// willing to wait: 15 s for 300,000 points and 40 s for a million on two cores, 3 GB; and how long it goes on
// at most without a look at whether it should. scan_bench [thousands of points]
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <sys/resource.h>
#include <vector>

#include "scan_cases.h"

namespace {

using namespace evenspit;
using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

struct Stage {
    std::string name;
    double seconds = 0;
    int looks = 0;
    double longest_s = 0;  // between two looks
};

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
    std::vector<Stage> stages;
    Clock::time_point begun, looked = Clock::now();
    const auto look = [&] {
        if (!stages.empty()) {
            stages.back().longest_s = std::max(stages.back().longest_s, seconds_since(looked));
            ++stages.back().looks;
        }
        looked = Clock::now();
    };
    scan::ScanSettings settings;
    settings.mass_kg = 5;
    settings.keep_going = look;
    settings.stage = [&](std::string_view name) {
        look();
        if (!stages.empty()) stages.back().seconds = seconds_since(begun);
        stages.push_back({std::string(name)});
        begun = Clock::now();
    };
    stages.push_back({"taking points"});
    begun = Clock::now();
    const double before_gb = peak_gigabytes();
    const Clock::time_point start = Clock::now();
    const scan::ScannedBody body = scan::make_body({{"simulated", {scan.mesh, {}, 1.0, 0}}}, settings);
    const double all = seconds_since(start);
    look();
    stages.back().seconds = seconds_since(begun);
    std::printf("%zu points (wanted %zu), %zu triangles\n", scan.mesh.vertices.size(), points,
                body.mesh.triangles.size());
    double cleaning = 0;
    for (const auto& [stage, seconds, looks, longest_s] : stages) {
        std::printf("  %-46s %6.2f s  %4.0f %%  %6d looks, %4.0f ms apart at most\n", stage.c_str(), seconds,
                    100 * seconds / all, looks, 1e3 * longest_s);
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
