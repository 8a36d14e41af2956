// SPDX-License-Identifier: MIT
// Prints how far bodies made from simulated scans are from the truth:
// scan_table [birds|roasts] [one|two] [first seed] [last seed] [step]
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <string>
#include <utility>
#include <vector>

#include "scan_cases.h"

int main(int count, char** words) {
    using namespace evenspit;
    using namespace evenspit::test;
    const auto word = [&](int k, const char* otherwise) {
        return std::string(count > k ? words[k] : otherwise);
    };
    const bool birds = word(1, "birds") == "birds", two = word(2, "one") == "two";
    const std::uint64_t first = std::stoul(word(3, "0")), last = std::stoul(word(4, "59")),
                        step = std::stoul(word(5, "1"));

    std::vector<double> volume, centre, radius, axis, up, sigmas, centre_sigmas;
    int failed = 0;
    std::printf(
        "seed  noise  missing  volume  centre  radius    axis      up  confidence  underside  sigmas of "
        "volume, centre  "
        "time\n");
    std::printf(
        "         mm        %%       %%      mm      mm     deg     deg           1                  1       "
        "1     "
        "s\n");
    for (std::uint64_t seed = first; seed <= last; seed += step) {
        try {
            const Outcome o = try_case(birds ? random_bird(seed) : random_roast(seed), seed, two);
            std::printf(
                "%4lu  %5.1f  %7.1f  %6.2f  %6.2f  %6.2f  %6.2f  %6.2f  %10.2f  %-9s  %6.2f  %6.2f  %4.1f\n",
                static_cast<unsigned long>(seed), o.noise_mm, 100 * o.missing, 100 * o.volume, o.centre_mm,
                o.radius_mm, o.axis_deg, o.up_deg, o.confidence, o.underside.c_str(), o.volume_sigmas,
                o.centre_sigmas, o.seconds);
            volume.push_back(100 * std::abs(o.volume));
            centre.push_back(o.centre_mm);
            radius.push_back(std::abs(o.radius_mm));
            axis.push_back(o.axis_deg);
            up.push_back(o.up_deg);
            sigmas.push_back(std::abs(o.volume_sigmas));
            centre_sigmas.push_back(o.centre_sigmas);
        } catch (const std::exception& error) {
            ++failed;
            std::printf("%4lu  refused: %s\n", static_cast<unsigned long>(seed), error.what());
        }
        std::fflush(stdout);
    }
    for (const auto& [name, share] : {std::pair("p50", 0.5), std::pair("p95", 0.95), std::pair("max", 1.0)}) {
        std::printf("%-20s  %6.2f  %6.2f  %6.2f  %6.2f  %6.2f  %10s  %-9s  %6.2f  %6.2f\n", name,
                    percentile(volume, share), percentile(centre, share), percentile(radius, share),
                    percentile(axis, share), percentile(up, share), "", "", percentile(sigmas, share),
                    percentile(centre_sigmas, share));
    }
    std::printf("%zu cases, %d refused\n", volume.size(), failed);
    return failed > 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
