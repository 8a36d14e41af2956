// SPDX-License-Identifier: MIT
// Kinds of scans as kitchens make them, each drawn anew for every seed.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "scan_cases.h"

namespace evenspit::test {

struct ScanClass {
    std::string name;  ///< short, as on the command line
    std::string what;  ///< as in the table
    std::function<ScanCase(std::uint64_t seed)> make;
};

const std::vector<ScanClass>& scan_classes();

/// What came of many cases of a class.
struct ClassOutcome {
    int tried = 0, refused = 0, birds = 0;
    double volume_median = 0, volume_p95 = 0, volume_sigma_median = 0, volume_bias = 0;  ///< shares
    double centre_median_mm = 0, centre_p95_mm = 0, centre_sigma_median_mm = 0;
    double volume_within = 0, centre_within = 0;  ///< share of those made whose error is within two told σ
    double over_told = 0;                         ///< mean of Outcome::over_told
};

ClassOutcome summary(const std::vector<Outcome>& made, int refused);

}  // namespace evenspit::test
