// SPDX-License-Identifier: MIT
// Prints how far bodies made from simulated scans are from the truth, and how far their told errors hold:
// scan_table [class, or "all"] [first seed] [last seed] [step] [each]
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <string>
#include <vector>

#include "scan/scan.h"
#include "scan_classes.h"
#include "scan_torque.h"

namespace {

using namespace evenspit::test;

void print_one(const Outcome& o) {
    std::printf(
        "%4lu  %5.1f  %7.1f  %6.2f ± %5.2f  %6.2f ± %5.2f  %6.2f  %6.2f  %6.2f  %10.2f  %-4s  %-6s  %-5s  "
        "%5.1f  "
        "%4.1f  %4.1f  %5.1f\n",
        static_cast<unsigned long>(o.seed), o.noise_mm, 100 * o.missing, 100 * o.volume, 100 * o.volume_sigma,
        o.centre_mm, 1e3 * o.report.centre_sigma_m, o.radius_mm, o.axis_deg, o.up_deg, o.confidence,
        o.taken_for_bird ? "bird" : "no", o.underside.c_str(), o.rests_on.c_str(),
        1e3 * o.report.passes[0].guess_error_m, 1e3 * o.report.bird_error_m, o.seconds, 100 * o.over_told);
}

ClassOutcome run(const ScanClass& kind, std::uint64_t first, std::uint64_t last, std::uint64_t step,
                 bool each) {
    std::vector<Outcome> made;
    std::vector<double> radius, axis, up;
    int refused = 0;
    if (each) {
        std::printf(
            "%s\nseed  noise  missing          volume          centre  radius    axis      up  "
            "confidence  bird  under   rests  guess  bird  time  over\n",
            kind.what.c_str());
    }
    for (std::uint64_t seed = first; seed <= last; seed += step) {
        try {
            const ScanCase given = kind.make(seed);
            const std::clock_t start = std::clock();
            const evenspit::scan::ScannedBody body = evenspit::scan::make_body(given.scans, given.settings);
            const double seconds = double(std::clock() - start) / CLOCKS_PER_SEC;
            made.push_back(compared(given, body, seed));
            made.back().seconds = seconds;
            made.back().over_told = share_over_told(given, body);
            radius.push_back(std::abs(made.back().radius_mm));
            axis.push_back(made.back().axis_deg);
            up.push_back(made.back().up_deg);
            if (each) print_one(made.back());
        } catch (const std::exception& error) {
            ++refused;
            if (each) std::printf("%4lu  refused: %s\n", static_cast<unsigned long>(seed), error.what());
        }
        std::fflush(stdout);
    }
    if (each) {
        std::printf("radius, axis, up: p95 %.2f mm, %.2f°, %.2f°; most %.2f mm, %.2f°, %.2f°\n",
                    percentile(radius, 0.95), percentile(axis, 0.95), percentile(up, 0.95),
                    percentile(radius, 1), percentile(axis, 1), percentile(up, 1));
    }
    return summary(made, refused);
}

}  // namespace

int main(int count, char** words) {
    const auto word = [&](int k, const char* otherwise) {
        return std::string(count > k ? words[k] : otherwise);
    };
    const std::string wanted = word(1, "all");
    const std::uint64_t first = std::stoul(word(2, "0")), last = std::stoul(word(3, "59")),
                        step = std::stoul(word(4, "1"));
    const bool each = word(5, "") == "each";
    std::printf(
        "| scans | tried | refused | volume: half within, 95 of 100, told ± | bias | in 2 ± | centre: half "
        "within, 95 of 100, told ± | in 2 ± | birds | torque over told |\n"
        "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n");
    bool known = false;
    for (const ScanClass& kind : scan_classes()) {
        if (wanted != "all" && wanted != kind.name) continue;
        known = true;
        const ClassOutcome o = run(kind, first, last, step, each);
        std::printf(
            "| %s | %d | %d | %.1f, %.1f, ± %.1f %% | %+.1f %% | %.0f %% | %.1f, %.1f, ± %.1f mm | %.0f %% | "
            "%d | %.1f %% |\n",
            kind.what.c_str(), o.tried, o.refused, 100 * o.volume_median, 100 * o.volume_p95,
            100 * o.volume_sigma_median, 100 * o.volume_bias, 100 * o.volume_within, o.centre_median_mm,
            o.centre_p95_mm, o.centre_sigma_median_mm, 100 * o.centre_within, o.birds, 100 * o.over_told);
        std::fflush(stdout);
    }
    if (known) return EXIT_SUCCESS;
    std::fprintf(stderr, "no such class; there are:\n");
    for (const ScanClass& kind : scan_classes()) std::fprintf(stderr, "  %s\n", kind.name.c_str());
    return EXIT_FAILURE;
}
