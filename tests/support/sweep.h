// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstdlib>

namespace evenspit::test {

/// Whether tests that sample what they try are to try all of it: EVENSPIT_LONG_TESTS is set, as by `.ci/run
/// --long`.
inline bool long_tests() {
    return std::getenv("EVENSPIT_LONG_TESTS") != nullptr;
}

/// How many of its random sets a sweep takes: a share of them, all when long_tests(), and fewer in a build
/// that is slow (the sanitizers' build sets EVENSPIT_SWEEP_DIVISOR).
///
/// \param share 1 in so many
inline int sweep_sets(int all, int share = 1) {
#ifdef EVENSPIT_SWEEP_DIVISOR
    return all / std::max(share, EVENSPIT_SWEEP_DIVISOR);
#else
    return long_tests() ? all : all / share;
#endif
}

}  // namespace evenspit::test
