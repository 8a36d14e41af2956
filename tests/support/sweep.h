// SPDX-License-Identifier: MIT
#pragma once

#include <cstdlib>

namespace evenspit::test {

/// How many of its random sets a sweep takes: all, or a share of them in a build that is slow (the
/// sanitizers' build sets EVENSPIT_SWEEP_DIVISOR).
constexpr int sweep_sets(int all) {
#ifdef EVENSPIT_SWEEP_DIVISOR
    return all / EVENSPIT_SWEEP_DIVISOR;
#else
    return all;
#endif
}

/// Whether tests that sample what they try are to try all of it: EVENSPIT_LONG_TESTS is set, as by `.ci/run
/// --long`.
inline bool long_tests() {
    return std::getenv("EVENSPIT_LONG_TESTS") != nullptr;
}

}  // namespace evenspit::test
